using Companion.Simulation.Worlds;

namespace Companion.Simulation.Running;

/// <summary>What became of one world.</summary>
/// <param name="Plan">The world.</param>
/// <param name="Head">Hash of what came of it: of a job's last entry, or of both sides of a link.</param>
/// <param name="Violation">What does not hold, beginning with the invariant's number; null when everything does.</param>
/// <param name="Step">The step it came to.</param>
internal sealed record Outcome(IPlan Plan, string Head, string? Violation, int Step);
