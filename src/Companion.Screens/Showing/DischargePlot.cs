using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Speaking;
using Companion.Domain.Time;

namespace Companion.Screens.Showing;

/// <summary>
/// The watching readings of the place that is tested next, drawn over time with the limit and, from three on, the line through them and its
/// band at 95 %. It explains a wait; it allows nothing. Coordinates are hundredths of the drawing's width and height.
/// </summary>
public sealed record DischargePlot
{
    /// <summary>A single reading is no picture.</summary>
    public const int LeastReadings = 2;

    /// <summary>Where the axes are: room for labels on the left and below.</summary>
    public const double Left = 10, Right = 95, Top = 7, Bottom = 84;

    private const int LineParts = 24;

    /// <summary>The place and the pair.</summary>
    public required string Title { get; init; }

    /// <summary>What the readings say, in words; never permissive.</summary>
    public required string Verdict { get; init; }

    /// <summary>The figures, a line each.</summary>
    public required ImmutableArray<string> Figures { get; init; }

    /// <summary>The readings.</summary>
    public required ImmutableArray<PlotMark> Points { get; init; }

    /// <summary>Where the limit is, with its label: on the left, where readings lie above it.</summary>
    public required PlotMark Limit { get; init; }

    /// <summary>Labels of the volts.</summary>
    public required ImmutableArray<PlotMark> VoltTicks { get; init; }

    /// <summary>Labels of the time since the first reading.</summary>
    public required ImmutableArray<PlotMark> TimeTicks { get; init; }

    /// <summary>The line through the readings; empty while there is none.</summary>
    public ImmutableArray<PlotMark> Line { get; init; } = [];

    /// <summary>The outline of its band; empty while there is none.</summary>
    public ImmutableArray<PlotMark> Band { get; init; } = [];

    /// <summary>The drawing for a job; null with fewer than two readings, in doubt, and when the job does not go on.</summary>
    public static DischargePlot? Of(Job job)
    {
        var series = Watching.SeriesOf(job);
        return series.Count < LeastReadings || job.Doubt || job.Halt is { Final: true }
            ? null
            : Draw(job, Watching.PlaceOf(job)!, series, Watching.FindingOf(job)!);
    }

    private static DischargePlot Draw(Job job, TestPlace place, IReadOnlyList<Watched> series, DischargeFinding finding)
    {
        var limit = place.Limit(series[^1].Kind);
        var span = Seconds(series[^1].Boot - series[0].Boot);
        var across = PlotScale.OfSeconds(span + Ahead(finding, span, Seconds(Watching.LeftAt(job, place, series[^1]))));
        var up = PlotScale.OfVolts(Math.Max(InVolts(limit), series.Max(watched => InVolts(watched.Volts))));
        var plot = new DischargePlot
        {
            Title = $"{place.Name}, {place.Pairs[0].Name}",
            Verdict = DischargeWording.OnScreen(finding.Verdict),
            Figures = DischargeFigures.Of(finding, limit),
            Points = [.. series.Select(watched => At(across, up, Seconds(watched.Boot - series[0].Boot), InVolts(watched.Volts)))],
            Limit = At(across, up, 0, InVolts(limit)) with { Label = $"limit {limit} V" },
            VoltTicks = [.. up.Ticks.Select(volts => At(across, up, 0, volts) with { Label = string.Create(CultureInfo.InvariantCulture, $"{volts:0.##} V") })],
            TimeTicks = [.. across.Ticks.Select(seconds => At(across, up, seconds, 0) with { Label = Time(seconds, across.Step) })],
        };
        return finding.Fit is { } fit ? WithLine(plot, fit, span, across, up) : plot;
    }

    private static DischargePlot WithLine(DischargePlot plot, DischargeFit fit, double span, PlotScale across, PlotScale up)
    {
        var steps = Enumerable.Range(0, LineParts + 1).Select(part => across.Most * part / LineParts).ToList();
        var band = steps.Select(seconds => (Seconds: seconds, Volts: fit.VoltsAt(seconds - span))).ToList();
        return plot with
        {
            Line = [.. band.Select(at => At(across, up, at.Seconds, at.Volts.Value))],
            Band =
            [
                .. band.Select(at => At(across, up, at.Seconds, at.Volts.Upper)),
                .. band.AsEnumerable().Reverse().Select(at => At(across, up, at.Seconds, at.Volts.Lower)),
            ],
        };
    }

    /// <summary>How far beyond the last reading the drawing goes: to where the line meets the limit, but not beyond the waits.</summary>
    private static double Ahead(DischargeFinding finding, double span, double left) =>
        Math.Max(span / 4, Math.Min(left, (finding.SecondsToLimit?.Value ?? 0) * 1.2));

    private static PlotMark At(PlotScale across, PlotScale up, double seconds, double volts) => new(
        Left + ((Right - Left) * seconds / across.Most),
        Bottom - ((Bottom - Top) * Math.Min(1, volts / up.Most)));

    private static string Time(double seconds, double step) => step < 60
        ? string.Create(CultureInfo.InvariantCulture, $"{seconds:0} s")
        : string.Create(CultureInfo.InvariantCulture, $"{seconds / 60:0} min");

    private static double InVolts(Volts volts) => volts.Magnitude.Millivolts / 1000.0;

    private static double Seconds(Ticks time) => (double)time.Nanoseconds / Ticks.PerSecond;
}
