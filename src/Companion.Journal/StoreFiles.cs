using System.Globalization;
using Companion.Journal.Disk;

namespace Companion.Journal;

/// <summary>
/// Names of a store's files. The first set lies in the store's own folder; after damage a new set is started in a folder
/// `segment-0002`, and the old set stays where it is, untouched, as the kept copy. The set with the highest number is the one in use.
/// </summary>
/// <param name="Root">The store's folder, with the lock and the tablet key.</param>
/// <param name="Segment">1 for the first set.</param>
public sealed record StoreFiles(string Root, int Segment)
{
    /// <summary>Ends the name of a file or folder that is being written and not yet in place.</summary>
    public const string NewSuffix = ".new";

    private const string SegmentPrefix = "segment-";

    /// <summary>The folder of this set.</summary>
    public string Directory => Segment == 1 ? Root : Path.Combine(Root, SegmentName(Segment));

    /// <summary>Held while a store is open.</summary>
    public string Lock => Path.Combine(Root, "lock");

    /// <summary>The tablet's signing key, readable by its owner only.</summary>
    public string Key => Path.Combine(Root, "tablet.key");

    /// <summary>The authority: every append, framed, in order of arrival.</summary>
    public string Witness => Path.Combine(Directory, "companion.witness");

    /// <summary>Personal texts and salts.</summary>
    public string Sealed => Path.Combine(Directory, "companion.sealed");

    /// <summary>LiteDB's data file.</summary>
    public string Data => Path.Combine(Directory, "companion.db");

    /// <summary>LiteDB's log file.</summary>
    public string Log => Path.Combine(Directory, "companion-log");

    /// <summary>Checksums of the pages of a LiteDB file.</summary>
    public static string SumsOf(string pages) => pages + ".sums";

    /// <summary>The four files LiteDB and its checksums live in.</summary>
    public IReadOnlyList<string> LedgerFiles => [Data, SumsOf(Data), Log, SumsOf(Log)];

    /// <summary>The set in use of a store.</summary>
    public static StoreFiles Current(IDisk disk, string root)
    {
        var last = 1;
        foreach (var name in disk.Exists(root) ? disk.Names(root) : [])
        {
            if (name.StartsWith(SegmentPrefix, StringComparison.Ordinal)
                && int.TryParse(name[SegmentPrefix.Length..], NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            {
                last = Math.Max(last, number);
            }
        }

        return new StoreFiles(root, last);
    }

    /// <summary>The set that would follow this one.</summary>
    public StoreFiles Next() => this with { Segment = Segment + 1 };

    /// <summary>The set before this one, kept after its damage; the first has none before it.</summary>
    public StoreFiles Before() => this with { Segment = Math.Max(1, Segment - 1) };

    private static string SegmentName(int number) => SegmentPrefix + number.ToString("D4", CultureInfo.InvariantCulture);
}
