using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Linking;

namespace Companion.Journal;

/// <summary>
/// What a chain gained behind a mark, read from the witness while the store is not yet open: each entry is checked against its hash and must
/// link to the mark. It says nothing of what lies before the mark, changes nothing, and replaces no opening. No state; any thread.
/// </summary>
public static class WitnessTail
{
    /// <summary>Most bytes that are read: a longer way is no shortcut.</summary>
    public const long Longest = 16 << 20;

    /// <summary>The entries after the mark, with their personal texts; null when the mark does not fit the store.</summary>
    /// <exception cref="IOException">The disk fails.</exception>
    public static IReadOnlyList<JournalEntry>? Read(IDisk disk, string directory, WitnessMark mark)
    {
        var files = StoreFiles.Current(disk, directory);
        if (files.Segment != mark.Segment || !disk.Exists(files.Witness))
        {
            return null;
        }

        using var file = disk.OpenRead(files.Witness);
        if (mark.Offset < 0 || mark.Offset > file.Length || file.Length - mark.Offset > Longest)
        {
            return null;
        }

        try
        {
            return WithTexts(disk, files, Linked(new FrameReader(file, mark.Offset), mark));
        }
        catch (FormatException)
        {
            return null;
        }
    }

    private static List<JournalEntry> Linked(FrameReader reader, WitnessMark mark)
    {
        var head = new ChainHead(mark.Sequence, mark.Hash);
        var entries = new List<JournalEntry>();
        foreach (var entry in reader.Whole().SelectMany(payload => EntryBatch.Parse(payload)).Where(entry => entry.Chain == mark.Chain))
        {
            if (ChainLink.Misfit(head, entry) is { } misfit)
            {
                throw new FormatException(misfit);
            }

            entries.Add(entry);
            head = new ChainHead(entry.Sequence, entry.Hash);
        }

        // Bytes that fit nothing may be a write that was interrupted, or damage: opening the store tells which.
        return reader.IsRagged ? throw new FormatException("The witness does not end with a whole frame.") : entries;
    }

    private static List<JournalEntry> WithTexts(IDisk disk, StoreFiles files, List<JournalEntry> entries)
    {
        if (entries.Count == 0)
        {
            return entries;
        }

        var texts = new Dictionary<string, SealedTexts>();
        SealedFile.Read(disk, files.Sealed, texts);
        return [.. entries.Select(entry => texts.TryGetValue(entry.Hash, out var found) ? entry with { Sealed = found } : entry)];
    }
}
