using Companion.Domain.Time;

namespace Companion.Domain.Electrical;

/// <summary>A reading and when it was taken, both exact.</summary>
/// <param name="At">CLOCK_BOOTTIME of one running period.</param>
/// <param name="Volts">What was shown; its magnitude counts, because leads may be reversed.</param>
public readonly record struct TimedVolts(Ticks At, Volts Volts);
