namespace Companion.Domain.Electrical;

/// <summary>What watching readings say, with the figures.</summary>
/// <param name="Verdict">The verdict.</param>
/// <param name="Fit">The line through the readings; null while there are too few, for AC, and once the limit is reached.</param>
/// <param name="SecondsToLimit">From the last reading; null without a line.</param>
/// <param name="Ohms">What discharges; null without a line or a capacitance.</param>
/// <param name="Joules">Stored at the last reading; null without a capacitance.</param>
public sealed record DischargeFinding(DischargeVerdict Verdict, DischargeFit? Fit, Estimate? SecondsToLimit, Estimate? Ohms, double? Joules)
{
    /// <summary>True when the stored energy is at or under 0.2 J (ISO 6469-4 5.2.3).</summary>
    public bool IsLowEnergy => Joules <= DischargeFit.LowEnergyJoules;

    /// <summary>True when waits and proofs must be taken away.</summary>
    public bool TakesAway => Verdict is DischargeVerdict.TooSlow or DischargeVerdict.NotFalling or DischargeVerdict.Rising;
}
