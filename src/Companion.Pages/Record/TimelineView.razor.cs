using System.Globalization;
using System.Net;
using Companion.Domain.Electrical;
using Companion.Review.Lines;
using Microsoft.AspNetCore.Components;

namespace Companion.Pages.Record;

/// <summary>The timeline of a window as SVG and as tables. What is drawn is bounded, however long the job.</summary>
public sealed partial class TimelineView
{
    private const int MostRows = 200;
    private const int MostBars = 100;
    private const int MostPlotted = 400;
    private const int Left = 160;
    private const int Column = 17;
    private const int Total = Left + LineModel.Columns * Column;
    private const int LaneHeight = 92;
    private const int PlotHeight = 34;
    private static readonly int Height = Enum.GetValues<Lane>().Length * LaneHeight;

    /// <summary>What to draw.</summary>
    [Parameter, EditorRequired]
    public LineModel Model { get; set; } = null!;

    private long Width => Model.Sight.To - Model.Sight.From;

    private int InView { get; set; }

    private Mark[] Rows { get; set; } = [];

    private WaitBar[] Bars { get; set; } = [];

    private PlotPoint[] Plotted { get; set; } = [];

    /// <summary>Where the scale of the readings ends: a round figure above everything that is drawn.</summary>
    private Volts ScaleTop { get; set; }

    private string Later
    {
        get
        {
            var from = Math.Clamp(Model.Sight.From + Width / 2, 0, Math.Max(0, Model.Line.Length - Width));
            return Model.Window(from, from + Width);
        }
    }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        var seen = Model.Line.Between(Model.Sight.From, Model.Sight.To);
        InView = seen.Length;
        Rows = seen[..Math.Min(seen.Length, MostRows)].ToArray();
        Bars = [.. Model.Line.Waits.Where(bar => bar.To >= Model.Sight.From && bar.From <= Model.Sight.To).Take(MostBars)];
        Plotted = [.. Model.Line.Readings.Where(point => point.At >= Model.Sight.From && point.At <= Model.Sight.To)
            .GroupBy(point => X(point.At) / (Column / 6)).Select(column => column.MaxBy(point => point.Volts)!).Take(MostPlotted)];
        ScaleTop = RoundAbove(Plotted.Select(point => Math.Max(point.Volts.Millivolts, point.Limit?.Millivolts ?? 0)).DefaultIfEmpty(1).Max());
    }

    /// <summary>The next of 1, 2, 5, 10, 20, 50 ... volts that is not below.</summary>
    private static Volts RoundAbove(long millivolts)
    {
        var volts = 1L;
        for (var step = 0; volts * 1000 < millivolts; step++)
        {
            volts = step % 3 == 1 ? volts / 2 * 5 : volts * 2;
        }

        return Volts.Of(volts);
    }

    private static string Ms(long nanoseconds) => (nanoseconds / 1_000_000).ToString(CultureInfo.InvariantCulture);

    private static int Top(Lane lane) => (int)lane * LaneHeight;

    /// <summary>Text is an element of SVG and a word of Razor's own: it is written by hand, encoded.</summary>
    private static string Text(string kind, int x, int y, string words) =>
        string.Create(CultureInfo.InvariantCulture, $"<text class=\"{kind}\" x=\"{x}\" y=\"{y}\">{WebUtility.HtmlEncode(words)}</text>");

    /// <summary>A shape for each meaning: colour alone says nothing.</summary>
    private static string Shape(MarkKind kind) => kind switch
    {
        MarkKind.Plain => "M0-4L4 0L0 4L-4 0Z",
        MarkKind.Correction => "M-10-8H10V10H-10Z",
        MarkKind.Refusal => "M-5-12H5L11-5V6L5 12H-5L-11 6V-5Z",
        MarkKind.Trouble => "M0-14L14 0L0 14L-14 0Z",
        MarkKind.Void => "M-12-10H12L0 16Z",
        _ => "M0-16L14 11H-14Z",
    };

    private static string Words(WaitBar bar) => string.Create(
        CultureInfo.InvariantCulture,
        $"{bar.Wait}: {bar.RequiredSeconds} s required, {bar.CountedSeconds} s counted, {RecordWords.Of(bar.End)}{(bar.Reason.Length > 0 ? $": {bar.Reason}" : string.Empty)}");

    private int X(long at) => Left + (int)((Int128)(Math.Clamp(at, Model.Sight.From, Model.Sight.To) - Model.Sight.From) * (Total - Left) / Width);

    private int Wide(long from, long to) => Math.Max(2, X(to) - X(from));

    private int Y(Volts volts) => Top(Lane.Readings) + LaneHeight - 6 - (int)((Int128)volts.Millivolts * PlotHeight / ScaleTop.Millivolts);

    private string Around(long half)
    {
        var middle = Model.Chosen is { } chosen && chosen.At >= Model.Sight.From && chosen.At <= Model.Sight.To ? chosen.At : Model.Sight.From + Width / 2;
        return Model.Window(middle - half, Math.Min(middle + half, Math.Max(Model.Line.Length, 1)));
    }

    /// <summary>The first such mark after the chosen one, or the first of all.</summary>
    private Mark? Next(Func<Mark, bool> wanted) =>
        Model.Line.Marks.FirstOrDefault(mark => mark.Sequence > (Model.Chosen?.Sequence ?? 0) && wanted(mark)) ?? Model.Line.Marks.FirstOrDefault(wanted);
}
