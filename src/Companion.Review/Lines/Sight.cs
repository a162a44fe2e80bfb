using System.Collections.Immutable;

namespace Companion.Review.Lines;

/// <summary>The marks of a window, thinned: those of one row and one meaning that share a column are one, with their number.</summary>
/// <param name="From">Start of the window, nanoseconds.</param>
/// <param name="To">Its end.</param>
/// <param name="Clusters">What is drawn: by row, meaning and column at most one.</param>
public sealed record Sight(long From, long To, ImmutableArray<Cluster> Clusters)
{
    /// <summary>The shortest window: a tenth of a second.</summary>
    public const long Shortest = 100_000_000;

    /// <summary>Thins a window of a timeline to a number of columns. A window that is turned round, too short or outside is put right.</summary>
    public static Sight Of(Timeline line, long from, long to, int columns)
    {
        var start = Math.Clamp(from, 0, Math.Max(0, line.Length - Shortest));
        var end = Math.Clamp(to, start + Shortest, Math.Max(line.Length, start + Shortest));
        var clusters = new Dictionary<(Lane, MarkKind, int), Cluster>();
        foreach (var mark in line.Between(start, end))
        {
            var column = (int)((Int128)(mark.At - start) * (columns - 1) / (end - start));
            var key = (mark.Lane, mark.Kind, column);
            clusters[key] = clusters.TryGetValue(key, out var there) ? there with { Count = there.Count + 1 } : new Cluster(mark, column, 1);
        }

        return new Sight(start, end, [.. clusters.Values]);
    }
}

/// <summary>Marks that share a column.</summary>
/// <param name="First">The first of them.</param>
/// <param name="Column">The column, from 0.</param>
/// <param name="Count">How many.</param>
public sealed record Cluster(Mark First, int Column, int Count);
