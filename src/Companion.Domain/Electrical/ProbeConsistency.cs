namespace Companion.Domain.Electrical;

/// <summary>
/// Whether three readings of one test place can belong together (Kirchhoff's voltage law): the rail-to-rail reading is the sum of both
/// rail-to-chassis readings when the chassis lies between the rails, and their difference when it lies outside. Readings that fit neither
/// mean a misplaced probe or a missed contact. Magnitudes are compared because leads may be reversed.
/// </summary>
public static class ProbeConsistency
{
    /// <summary>True when the rail-to-rail reading is within <paramref name="floor"/> of the sum or of the difference.</summary>
    /// <param name="railToRail">Positive rail to negative rail.</param>
    /// <param name="positiveToChassis">Positive rail to chassis.</param>
    /// <param name="negativeToChassis">Negative rail to chassis.</param>
    /// <param name="floor">
    /// The sheet's floor: how far apart good readings may lie. For a reading "below N" pass zero and a floor not under N.
    /// </param>
    public static bool Fits(Volts railToRail, Volts positiveToChassis, Volts negativeToChassis, Volts floor)
    {
        var whole = railToRail.Magnitude;
        var positive = positiveToChassis.Magnitude;
        var negative = negativeToChassis.Magnitude;
        var sum = positive + negative;
        var difference = (positive - negative).Magnitude;
        return (whole - sum).Magnitude <= floor.Magnitude || (whole - difference).Magnitude <= floor.Magnitude;
    }

    /// <summary>True when some voltages within what was shown fit: the same check for readings of the kind "below N".</summary>
    /// <param name="railToRail">Positive rail to negative rail.</param>
    /// <param name="positiveToChassis">Positive rail to chassis.</param>
    /// <param name="negativeToChassis">Negative rail to chassis.</param>
    /// <param name="floor">The sheet's floor.</param>
    public static bool Fits(VoltsBetween railToRail, VoltsBetween positiveToChassis, VoltsBetween negativeToChassis, Volts floor)
    {
        var sum = new VoltsBetween(positiveToChassis.Least + negativeToChassis.Least, positiveToChassis.Most + negativeToChassis.Most);
        var apart = positiveToChassis.Gap(negativeToChassis);
        var most = Larger(positiveToChassis.Most - negativeToChassis.Least, negativeToChassis.Most - positiveToChassis.Least);
        return railToRail.Gap(sum) <= floor.Magnitude || railToRail.Gap(new VoltsBetween(apart, most)) <= floor.Magnitude;
    }

    private static Volts Larger(Volts left, Volts right) => left > right ? left : right;
}
