namespace Companion.Domain.Electrical;

/// <summary>What was measured for the isolation resistance of a connected pack, and with what. All voltages DC, as magnitudes.</summary>
public sealed record IsolationReadings
{
    /// <summary>Positive rail to negative rail, in volts (Vb).</summary>
    public required decimal RailToRail { get; init; }

    /// <summary>Negative rail to chassis, in volts (V1).</summary>
    public required decimal NegativeToChassis { get; init; }

    /// <summary>Positive rail to chassis, in volts (V2).</summary>
    public required decimal PositiveToChassis { get; init; }

    /// <summary>The known resistor, in ohms (Ro).</summary>
    public required decimal KnownOhms { get; init; }

    /// <summary>The larger of the two rail-to-chassis voltages once more, in volts, with the known resistor fitted there (V1' or V2').</summary>
    public required decimal Primed { get; init; }

    /// <summary>The voltmeter's internal resistance, in megohms.</summary>
    public required decimal MeterMegohms { get; init; }

    /// <summary>How far off the voltmeter may read, in percent of the reading.</summary>
    public decimal MeterPercent { get; init; } = IsolationResistance.UsualMeterPercent;
}
