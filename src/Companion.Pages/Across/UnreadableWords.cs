using System.Collections.Immutable;
using Companion.Review.Across;

namespace Companion.Pages.Across;

/// <summary>What is said of records that cannot be read, and what to do.</summary>
internal static class UnreadableWords
{
    /// <summary>Most that are named.</summary>
    public const int MostNamed = 20;

    /// <summary>For the page.</summary>
    public static string Of(int count) =>
        $"{(count == 1 ? "One record" : $"{count} records")} could not be read: the figures and the search are without {(count == 1 ? "it" : "them")}. "
        + "Try again; if it stays so, look at the disk of the watch room.";

    /// <summary>For a download that is refused.</summary>
    public static string OfDownload(ImmutableArray<Unreadable> unreadable) =>
        "Nothing was downloaded: a file would not show that records are missing. "
        + $"{(unreadable.Length == 1 ? "One could" : $"{unreadable.Length} could")} not be read. Try again; if it stays so, look at the disk of the watch room.\n"
        + string.Concat(unreadable.Take(MostNamed).Select(record => $"{record.Name.Device}, {record.Name.Chain}: {record.Trouble}\n"));
}
