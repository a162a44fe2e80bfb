using Companion.Contracts;
using Companion.Domain.Retention;

namespace Companion.Journal.Retention;

/// <summary>What of some entries is to be erased. Erasing changes no entry: an entry holds only the hash of a salt and a text. Pure; any thread.</summary>
/// <param name="Places">Where.</param>
/// <param name="Counts">How many texts of each kind; kinds without any are left out.</param>
public sealed record Erasure(IReadOnlyList<SealedPlace> Places, IReadOnlyDictionary<PersonalKind, int> Counts)
{
    /// <summary>Type of the entry that tells of an erasure.</summary>
    public const string EntryType = "texts.erased";

    /// <summary>True when nothing is to be erased.</summary>
    public bool IsEmpty => Places.Count == 0;

    /// <summary>What is due of entries.</summary>
    /// <param name="entries">The entries, with the personal texts that they still have.</param>
    /// <param name="from">From when the days of an entry count; null for one that is on hold.</param>
    /// <param name="policy">For how long each kind is kept; null erases all that is not on hold.</param>
    /// <param name="now">The wall clock.</param>
    public static Erasure Of(
        IEnumerable<JournalEntry> entries, Func<JournalEntry, DateTimeOffset?> from, RetentionPolicy? policy, DateTimeOffset now)
    {
        var places = new List<SealedPlace>();
        var counts = new Dictionary<PersonalKind, int>();
        foreach (var entry in entries.Where(entry => entry.Sealed.Count > 0))
        {
            var members = Due(entry, from(entry), policy, now);
            if (members.Count > 0)
            {
                places.Add(new SealedPlace(entry.Chain, entry.Sequence, members));
            }

            foreach (var kind in members.Select(PersonalKinds.Of))
            {
                counts[kind] = counts.GetValueOrDefault(kind) + 1;
            }
        }

        return new Erasure(places, counts);
    }

    /// <summary>The members of one entry whose texts are due.</summary>
    public static IReadOnlyCollection<string> Due(JournalEntry entry, DateTimeOffset? from, RetentionPolicy? policy, DateTimeOffset now) => from is { } start
        ? [.. entry.Sealed.Keys.Where(member => policy?.IsDue(PersonalKinds.Of(member), start, now) ?? true)]
        : [];

    /// <summary>The counts by lower-case name, as the entry tells them.</summary>
    public IReadOnlyDictionary<string, int> CountsByName => Counts.ToDictionary(count => count.Key.ToString().ToLowerInvariant(), count => count.Value);

    /// <summary>The counts in words: "3 names, 12 heard".</summary>
    public string Words => string.Join(", ", CountsByName.OrderBy(count => count.Key, StringComparer.Ordinal).Select(count => $"{count.Value} {count.Key}"));
}
