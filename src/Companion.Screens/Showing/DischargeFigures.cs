using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain.Electrical;

namespace Companion.Screens.Showing;

/// <summary>The figures of a discharge in words. Times to the limit are rounded up: what is left is never shown too short.</summary>
public static class DischargeFigures
{
    private const double OhmsInKilohm = 1000;

    /// <summary>The lines, the one that matters most first.</summary>
    public static ImmutableArray<string> Of(DischargeFinding finding, Volts limit) =>
    [
        .. finding.SecondsToLimit is { } seconds
            ? [$"To {limit} V: about {Up(seconds.Value)} s more, {Between(Down(seconds.Lower), Up(seconds.Upper))} s at 95 %"]
            : Array.Empty<string>(),
        .. finding.Fit is { TimeConstant: var tau } ? [$"Time constant {Short(tau.Value)} s, {Between(Short(tau.Lower), Short(tau.Upper))} s"] : Array.Empty<string>(),
        .. finding.Ohms is { } ohms ? [$"Discharges through {Short(ohms.Value / OhmsInKilohm)} kilohm"] : Array.Empty<string>(),
        .. finding.Joules is { } joules
            ? [$"Stored at the last reading: {Short(joules)} J, {(finding.IsLowEnergy ? "not over" : "over")} {Short(DischargeFit.LowEnergyJoules)} J"]
            : Array.Empty<string>(),
    ];

    private static string Between(string lower, string upper) => $"from {lower} to {upper}";

    private static string Up(double value) => Text(Math.Ceiling(value), "0");

    private static string Down(double value) => Text(Math.Floor(value), "0");

    private static string Short(double value) => Text(value, value >= 100 ? "0" : value >= 10 ? "0.0" : "0.00");

    private static string Text(double value, string format) => double.IsFinite(value) ? value.ToString(format, CultureInfo.InvariantCulture) : "no end";
}
