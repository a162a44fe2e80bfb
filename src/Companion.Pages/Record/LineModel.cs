using Companion.Review.Lines;

namespace Companion.Pages.Record;

/// <summary>A timeline as it is drawn now.</summary>
/// <param name="Line">The whole timeline.</param>
/// <param name="Sight">The window of it.</param>
/// <param name="Address">The page's address.</param>
/// <param name="Chosen">The chosen entry; null for none.</param>
public sealed record LineModel(Timeline Line, Sight Sight, string Address, Mark? Chosen)
{
    /// <summary>Columns of a row: a mark's own width, so that marks never lie on one another.</summary>
    public const int Columns = 60;

    private const long NanosecondsPerMillisecond = 1_000_000;

    /// <summary>The window that an address asks for, in milliseconds; the whole job when it asks for none.</summary>
    public static LineModel Of(Timeline line, string address, long? from, long? to, long? chosen)
    {
        var most = line.Length / NanosecondsPerMillisecond + 1;
        var start = Math.Clamp(from ?? 0, 0, most) * NanosecondsPerMillisecond;
        var end = Math.Clamp(to ?? most, 0, most) * NanosecondsPerMillisecond;
        return new LineModel(line, Sight.Of(line, start, end, Columns), address, line.Marks.FirstOrDefault(mark => mark.Sequence == chosen));
    }

    /// <summary>The address of another window, in nanoseconds.</summary>
    public string Window(long from, long to, long? chosen = null) =>
        FormattableString.Invariant($"{Address}?from={Math.Max(0, from) / NanosecondsPerMillisecond}&to={(to + NanosecondsPerMillisecond - 1) / NanosecondsPerMillisecond}")
        + ((chosen ?? Chosen?.Sequence) is { } at ? FormattableString.Invariant($"&at={at}") : string.Empty);

    /// <summary>The address that chooses an entry, moving the window only when the entry lies outside.</summary>
    public string Choose(Mark mark)
    {
        var width = Sight.To - Sight.From;
        return mark.At >= Sight.From && mark.At <= Sight.To
            ? Window(Sight.From, Sight.To, mark.Sequence)
            : Window(mark.At - width / 2, mark.At + width / 2, mark.Sequence);
    }
}
