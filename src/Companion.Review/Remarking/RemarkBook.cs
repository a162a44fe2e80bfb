using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain.Events;

namespace Companion.Review.Remarking;

/// <summary>What the rules of remarks share: the record with its pinned sheet and kit, and the making of remarks.</summary>
internal sealed class RemarkBook(RecordedJob job)
{
    private const long Second = 1_000_000_000;

    /// <summary>The entries.</summary>
    public ImmutableArray<RecordedEntry> Entries => job.Entries;

    /// <summary>What is wrong with the record.</summary>
    public ImmutableArray<RecordTrouble> Troubles => job.Troubles;

    /// <summary>The opening; null in a record that lacks it.</summary>
    public JobOpened? Opened { get; } = job.Entries.Select(entry => entry.Happened).OfType<JobOpened>().FirstOrDefault();

    /// <summary>The entries that carry an event of one type.</summary>
    public IEnumerable<(RecordedEntry At, T Event)> Of<T>()
        where T : JobEvent
    {
        foreach (var entry in Entries)
        {
            if (entry.Happened is T happened)
            {
                yield return (entry, happened);
            }
        }
    }

    /// <summary>The sheet that held at an entry; null before one was pinned.</summary>
    public Domain.Sheets.Sheet? SheetAt(RecordedEntry entry) => Of<SheetPinned>().LastOrDefault(pinned => pinned.At.Sequence <= entry.Sequence).Event?.Sheet;

    /// <summary>A remark about these entries, the first of which is where to look.</summary>
    public static Remark About(RemarkKind kind, RemarkWeight weight, IEnumerable<RecordedEntry> entries, string words) =>
        new(kind, weight, [.. entries.Select(entry => entry.Sequence).Take(RemarkLimits.MostPointedTo)], words);

    /// <summary>Whole seconds between two entries, rounded down.</summary>
    public static long SecondsBetween(RecordedEntry from, RecordedEntry to) => (to.At - from.At) / Second;

    /// <summary>True when no more than so many seconds lie between.</summary>
    public static bool Within(RecordedEntry from, RecordedEntry to, int seconds) => to.At - from.At <= seconds * Second;

    /// <summary>One or many, in words.</summary>
    public static string Times(int count) => count == 1 ? "once" : string.Create(CultureInfo.InvariantCulture, $"{count} times");

    /// <summary>A length of time for people.</summary>
    public static string Length(long seconds) => seconds < 120
        ? string.Create(CultureInfo.InvariantCulture, $"{seconds} s")
        : string.Create(CultureInfo.InvariantCulture, $"{seconds / 60} min {seconds % 60} s");
}
