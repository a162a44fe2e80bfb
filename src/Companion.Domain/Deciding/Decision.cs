using System.Collections.Immutable;
using Companion.Domain.Events;

namespace Companion.Domain.Deciding;

/// <summary>What the rules made of a command. Refusals are values; they are journalled like everything else (I9).</summary>
/// <param name="Events">What is to be journalled, in order; may be empty.</param>
public abstract record Decision(ImmutableArray<JobEvent> Events);

/// <summary>The command was accepted.</summary>
public sealed record Accepted(ImmutableArray<JobEvent> Events) : Decision(Events);

/// <summary>The command was refused.</summary>
/// <param name="Reason">A sentence that the technician can act on.</param>
/// <param name="RemainingSeconds">Whole seconds left, rounded up; 0 when time is not what is missing.</param>
/// <param name="Events">The refusal itself, and whatever time brought with it.</param>
public sealed record Refused(string Reason, long RemainingSeconds, ImmutableArray<JobEvent> Events) : Decision(Events);
