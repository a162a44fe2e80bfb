using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.TestKit.Judging;

/// <summary>A recorded event with what only the test knows: how long the process had truly been running and awake.</summary>
/// <param name="Sequence">Its sequence.</param>
/// <param name="Event">The event.</param>
/// <param name="Moment">Its moment.</param>
/// <param name="Running">True running time, by the test's own clock.</param>
public sealed record Witnessed(long Sequence, JobEvent Event, Moment Moment, Ticks Running);

/// <summary>One command with all that it brought.</summary>
/// <param name="Command">The command.</param>
/// <param name="Decision">The decision.</param>
/// <param name="Moment">When.</param>
/// <param name="LogBefore">How many entries the log had before.</param>
/// <param name="Before">The job before.</param>
/// <param name="After">The job after.</param>
public sealed record Turned(Command Command, Decision Decision, Moment Moment, int LogBefore, Job? Before, Job? After);
