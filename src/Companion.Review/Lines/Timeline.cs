using System.Collections.Immutable;

namespace Companion.Review.Lines;

/// <summary>A recorded job as rows. Every entry is one mark, or is counted in <paramref name="NotShown"/>. Immutable.</summary>
/// <param name="Marks">Marks in order of sequence; their times never go back.</param>
/// <param name="Waits">Bars, by start.</param>
/// <param name="Readings">The plotted line; each reading is a mark too.</param>
/// <param name="Breaks">Restarts and sleep.</param>
/// <param name="Length">Nanoseconds from the first entry to the last.</param>
/// <param name="NotShown">Entries that only keep the clocks: anchors and words from the watch room's link.</param>
public sealed record Timeline(
    ImmutableArray<Mark> Marks, ImmutableArray<WaitBar> Waits, ImmutableArray<PlotPoint> Readings, ImmutableArray<LineBreak> Breaks, long Length, int NotShown)
{
    /// <summary>The rows of a record.</summary>
    public static Timeline Of(RecordedJob job) => new TimelineBuilder(job).Build();

    /// <summary>The marks of a window, both ends included.</summary>
    public ReadOnlySpan<Mark> Between(long from, long to)
    {
        var (first, end) = (FirstFrom(from), FirstFrom(to + 1));
        return end > first ? Marks.AsSpan()[first..end] : [];
    }

    /// <summary>The place of the first mark at or after a time; the number of marks when there is none.</summary>
    private int FirstFrom(long at)
    {
        var (low, high) = (0, Marks.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = Marks[middle].At < at ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}
