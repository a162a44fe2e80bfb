namespace Companion.Domain.Electrical;

/// <summary>What is known of a voltage's magnitude: it lies from one to the other, both included.</summary>
/// <param name="Least">The least that it can be.</param>
/// <param name="Most">The most that it can be.</param>
public readonly record struct VoltsBetween(Volts Least, Volts Most)
{
    /// <summary>How far apart the two are; nothing when they overlap.</summary>
    public Volts Gap(VoltsBetween other) => other.Least > Most ? other.Least - Most
        : Least > other.Most ? Least - other.Most
        : Volts.Of(0);
}
