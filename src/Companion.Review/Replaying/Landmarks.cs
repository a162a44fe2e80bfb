using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Companion.Review.Replaying;

/// <summary>
/// Where the landmarks of a record stand, as counts of entries: the entry itself is the last of them. A function of the record alone. Immutable.
/// </summary>
public sealed class Landmarks
{
    private readonly FrozenDictionary<Landmark, ImmutableArray<int>> _counts;

    private Landmarks(FrozenDictionary<Landmark, ImmutableArray<int>> counts) => _counts = counts;

    /// <summary>The landmarks of a record.</summary>
    public static Landmarks Of(RecordedJob record)
    {
        var found = record.Entries
            .Select((entry, index) => (Kind: LandmarkKinds.Of(entry.Happened), Count: index + 1))
            .Where(one => one.Kind is not null)
            .ToLookup(one => one.Kind!.Value, one => one.Count);
        return new Landmarks(LandmarkKinds.All.ToFrozenDictionary(kind => kind, kind => found[kind].ToImmutableArray()));
    }

    /// <summary>How many there are.</summary>
    public int Number(Landmark kind) => _counts[kind].Length;

    /// <summary>The next one after so many entries; null when there is none.</summary>
    public int? Next(Landmark kind, int count)
    {
        var all = _counts[kind];
        var at = all.BinarySearch(count + 1);
        var first = at < 0 ? ~at : at;
        return first < all.Length ? all[first] : null;
    }

    /// <summary>The one before: the nearest of fewer entries; null when there is none.</summary>
    public int? Previous(Landmark kind, int count)
    {
        var all = _counts[kind];
        var at = all.BinarySearch(count);
        var first = (at < 0 ? ~at : at) - 1;
        return first >= 0 ? all[first] : null;
    }
}
