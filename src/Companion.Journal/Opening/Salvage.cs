using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Heads;
using Companion.Journal.Ledger;
using Companion.Journal.Linking;

namespace Companion.Journal.Opening;

/// <summary>
/// What still holds of a damaged set: for each chain the entries that follow each other from the first, found in the witness, behind
/// its damage, or in LiteDB. Nothing is guessed: an entry that does not follow stays in the old set only. Used by one thread.
/// </summary>
internal sealed class Salvage
{
    private readonly List<JournalEntry> held = [];
    private readonly ChainIndex index = new();
    private readonly HeadClock headClock = new();
    private readonly Dictionary<string, long> highest = [];
    private readonly HashSet<string> lost = [];

    /// <summary>The identity any readable entry states; null when none can be read.</summary>
    public StoreIdentity? Identity { get; private set; }

    /// <summary>True when readable entries state different tablets or kinds: files of two stores lie together.</summary>
    public bool IsMixed { get; private set; }

    /// <summary>Entries that hold.</summary>
    public IReadOnlyList<JournalEntry> Held => held;

    /// <summary>Chains that go on with a gap or may lack entries, the tablet's always among them.</summary>
    public IReadOnlyCollection<string> Broken => lost;

    /// <summary>Reads everything that can be read of a set.</summary>
    public static Salvage Of(IDisk disk, StoreFiles files, LedgerStore? ledger)
    {
        var salvage = new Salvage();
        var (whole, beyond) = WitnessEntries(disk, files);
        List<ReadOnlyMemory<byte>> rows = [];
        var ledgerReadable = ledger is not null && TryReadRows(ledger, rows);
        var candidates = salvage.Readable(rows.Count >= whole.Count ? [.. rows, .. whole, .. beyond] : [.. whole, .. beyond, .. rows]);
        salvage.Take(candidates);
        salvage.NameBroken(nothingElseLost: ledgerReadable && rows.Count >= salvage.held.Count);
        return salvage;
    }

    /// <summary>
    /// Writes the next set: the entries that hold, then a `segment.started` in every broken chain. Durable when it returns.
    /// </summary>
    public void WriteNext(
        IDisk disk, StoreFiles next, StoreParts parts, string reason, IReadOnlyDictionary<string, SealedTexts> texts)
    {
        var builder = new BatchBuilder(parts, index, headClock);
        foreach (var chain in lost)
        {
            var sequence = Math.Max(highest.GetValueOrDefault(chain), index.HeadOf(chain).Sequence) + 1;
            builder.AddOwn(chain, EntryTypes.SegmentStarted, reason, sequence);
        }

        // The heads signed before may be among what was lost.
        builder.AddHeads(index.Names().Where(name => name != Chains.Tablet));

        var unfinished = next.Directory + StoreFiles.NewSuffix;
        disk.CreateDirectory(unfinished);
        var frames = held.Chunk(LargestFrame).Append([.. builder.Entries]).Select(e => new ReadOnlyMemory<byte>(EntryBatch.Join(e)));
        FrameFile.WriteNew(disk, Path.Combine(unfinished, Path.GetFileName(next.Witness)), frames);
        SealedFile.Rewrite(
            disk,
            Path.Combine(unfinished, Path.GetFileName(next.Sealed)),
            held.Select(e => e.Hash).Where(texts.ContainsKey).Select(h => KeyValuePair.Create(h, texts[h]))).Dispose();
        disk.SyncDirectory(unfinished);
        disk.Rename(unfinished, next.Directory);
        disk.SyncDirectory(next.Root);
    }

    // Far below the largest payload even when every entry is of the largest size.
    private const int LargestFrame = FrameFile.LargestPayload / EntryCodec.LargestEntry / 2;

    private static (List<ReadOnlyMemory<byte>> Whole, List<ReadOnlyMemory<byte>> Beyond) WitnessEntries(IDisk disk, StoreFiles files)
    {
        if (!disk.Exists(files.Witness))
        {
            return ([], []);
        }

        using var file = disk.OpenRead(files.Witness);
        var reader = new FrameReader(file);
        var whole = reader.Whole().SelectMany(p => EntryBatch.Split(p)).ToList();
        return (whole, reader.Beyond().SelectMany(p => EntryBatch.Split(p)).ToList());
    }

    private static bool TryReadRows(LedgerStore ledger, List<ReadOnlyMemory<byte>> rows)
    {
        try
        {
            foreach (var row in ledger.All())
            {
                rows.Add(row.Bytes);
            }

            return true;
        }
        catch (Exception cause) when (cause is PageMisfitException or LedgerDamageException)
        {
            return false;
        }
    }

    private List<JournalEntry> Readable(List<ReadOnlyMemory<byte>> candidates)
    {
        var readable = new List<JournalEntry>();
        foreach (var bytes in candidates)
        {
            if (EntryCodec.ClaimedPlace(bytes) is { } place)
            {
                highest[place.Chain] = Math.Max(highest.GetValueOrDefault(place.Chain), place.Sequence);
            }

            try
            {
                readable.Add(EntryCodec.Parse(bytes));
            }
            catch (FormatException)
            {
                // It stays in the old set; its place was noted above so that no number is used twice.
            }
        }

        return readable;
    }

    private void Take(List<JournalEntry> candidates)
    {
        var before = -1;
        while (before != held.Count)
        {
            before = held.Count;
            foreach (var entry in candidates)
            {
                if (ChainLink.Misfit(index.HeadOf(entry.Chain), entry) is null)
                {
                    index.Add(entry);
                    headClock.Note(entry);
                    held.Add(entry);
                }
            }
        }

        IsMixed = candidates.Select(e => (EntryCodec.TabletOf(e), e.Rehearsal)).Distinct().Skip(1).Any();
        var witness = candidates.FirstOrDefault(e => WitnessSurvey.IdentityIn(e) is not null) ?? candidates.FirstOrDefault();
        Identity = witness is null
            ? null
            : new StoreIdentity(EntryCodec.TabletOf(witness), witness.Rehearsal ? StoreKind.Rehearsal : StoreKind.Real);
    }

    private void NameBroken(bool nothingElseLost)
    {
        lost.Add(Chains.Tablet);
        lost.UnionWith(highest.Where(h => EntryCodec.IsChainName(h.Key) && h.Value > index.HeadOf(h.Key).Sequence).Select(h => h.Key));
        if (!nothingElseLost)
        {
            // Nobody can say whose entries the unreadable bytes were: every job still open may lack some.
            lost.UnionWith(headClock.OpenJobs);
        }
    }
}
