using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Linking;
using Companion.Journal.Proof;

namespace Companion.Watchroom.Receiving;

/// <summary>
/// One chain as it is held: the lines that link, in one file, and beside it, in another, what came for the same sequences with other
/// content. Every line is checked when it is read for the first time. Used by one thread at a time.
/// </summary>
internal sealed class HeldIndex
{
    /// <summary>Most that is kept of what does not fit; a tablet gone wild must not fill the disk of everybody.</summary>
    private const long LongestFork = 256L << 20;

    private readonly LineLog chain;
    private readonly LineLog forks;
    private readonly Dictionary<long, string> hashes = [];
    private readonly HashSet<string> known = [];
    private readonly HashSet<string> forked = [];
    private bool? rehearsal;

    private HeldIndex(IDisk disk, string path) => (chain, forks) = (new LineLog(disk, path), new LineLog(disk, ForkPath(path)));

    /// <summary>The end of the chain.</summary>
    public ChainHead Head { get; private set; } = ChainHead.Empty;

    /// <summary>What is wrong with what is held; null when nothing is.</summary>
    public string? Damage { get; private set; }

    /// <summary>The file of what does not fit, beside a chain's.</summary>
    public static string ForkPath(string path) => path + ".fork";

    /// <summary>Reads and checks what is held.</summary>
    public static HeldIndex Load(IDisk disk, string path)
    {
        var index = new HeldIndex(disk, path);
        try
        {
            index.chain.Load(line => index.Note(ExportLine.Parse(line), isHeld: true));
            index.forks.Load(line => index.forked.Add(ExportLine.Parse(line).Hash));
        }
        catch (FormatException cause)
        {
            index.Damage = cause.Message;
        }

        if (index.chain.IsDamaged || index.forks.IsDamaged)
        {
            index.Damage ??= "bytes in the middle of the file do not fit their checksum";
        }

        return index;
    }

    /// <summary>
    /// Takes what links on; returns the outcome. Nothing of the batch is forgotten half-way: a failing disk throws with the chain as it was,
    /// or with a beginning of the batch held for good.
    /// </summary>
    public (ReceiptOutcome Outcome, string Reason) Take(IReadOnlyList<ReceivedLine> lines)
    {
        if ((rehearsal ?? lines[0].Entry.Rehearsal) != lines[0].Entry.Rehearsal)
        {
            return (ReceiptOutcome.Broken, "Real and rehearsal entries are never mixed in one chain.");
        }

        chain.Settle();
        forks.Settle();
        var sorted = new Sorting(this);
        var stop = lines.Select(sorted.Take).FirstOrDefault(outcome => outcome != ReceiptOutcome.Taken);
        Keep(sorted);
        return stop switch
        {
            ReceiptOutcome.Gap => (stop, $"Entries are missing: the chain is held up to {Head.Sequence}. Send from there on."),
            ReceiptOutcome.Broken => (stop, $"The entry after {Head.Sequence} does not link to it. Verify the tablet's store."),
            _ when sorted.IsForked => (ReceiptOutcome.Fork, "A sequence is held with other content. Both are kept, the first stays in the chain: verify the tablet's store."),
            _ => (ReceiptOutcome.Taken, ""),
        };
    }

    /// <summary>Erases personal texts beside the entries and the forks; returns how many there were. What is damaged stays as it is.</summary>
    public int Erase(Func<JournalEntry, IReadOnlyCollection<string>> due)
    {
        var erased = 0;
        if (Damage is null)
        {
            chain.Replace(Without);
            forks.Replace(Without);
        }

        return erased;

        ReadOnlyMemory<byte> Without(ReadOnlyMemory<byte> line)
        {
            var entry = ExportLine.Parse(line);
            var gone = due(entry);
            var kept = entry.Sealed.Where(text => !gone.Contains(text.Key)).ToDictionary();
            erased += entry.Sealed.Count - kept.Count;
            return kept.Count == entry.Sealed.Count ? line : ExportLine.Of(entry with { Sealed = kept });
        }
    }

    private void Keep(Sorting sorted)
    {
        if (sorted.Fresh.Count > 0)
        {
            chain.Append([.. sorted.Fresh.Select(line => line.Bytes)]);
            sorted.Fresh.ForEach(line => Note(line.Entry, isHeld: false));
        }

        if (sorted.Forks.Count > 0)
        {
            if (forks.Length > LongestFork)
            {
                throw new IOException("Too much came of this chain that does not fit it.");
            }

            forks.Append([.. sorted.Forks.Select(line => line.Bytes)]);
            forked.UnionWith(sorted.Forks.Select(line => line.Entry.Hash));
        }
    }

    private void Note(JournalEntry entry, bool isHeld)
    {
        if (isHeld && ChainLink.Misfit(Head, entry) is { } misfit)
        {
            throw new FormatException($"entry {entry.Sequence}: {misfit}");
        }

        hashes[entry.Sequence] = entry.Hash;
        known.Add(entry.Hash);
        rehearsal ??= entry.Rehearsal;
        Head = new ChainHead(entry.Sequence, entry.Hash);
    }

    /// <summary>Where each line of a batch belongs, before anything is written.</summary>
    private sealed class Sorting(HeldIndex held)
    {
        private readonly HashSet<string> forked = [];
        private readonly Dictionary<long, string> fresh = [];
        private ChainHead head = held.Head;

        public List<ReceivedLine> Fresh { get; } = [];

        public List<ReceivedLine> Forks { get; } = [];

        public bool IsForked => forked.Count > 0;

        /// <summary><see cref="ReceiptOutcome.Taken"/> to go on with the next line.</summary>
        public ReceiptOutcome Take(ReceivedLine line)
        {
            var entry = line.Entry;
            if (entry.Sequence <= head.Sequence)
            {
                return (held.hashes.GetValueOrDefault(entry.Sequence) ?? fresh.GetValueOrDefault(entry.Sequence)) == entry.Hash
                    ? ReceiptOutcome.Taken
                    : Fork(line);
            }

            if (ChainLink.Misfit(head, entry) is null)
            {
                Fresh.Add(line);
                fresh.Add(entry.Sequence, entry.Hash);
                head = new ChainHead(entry.Sequence, entry.Hash);
                return ReceiptOutcome.Taken;
            }

            // It goes on from an entry in the middle of the chain, or from one that was put aside: another story of the same job.
            if (entry.PreviousHash != head.Hash && (held.known.Contains(entry.PreviousHash) || held.forked.Contains(entry.PreviousHash) || forked.Contains(entry.PreviousHash)))
            {
                return Fork(line);
            }

            return entry.Sequence > head.Sequence + 1 ? ReceiptOutcome.Gap : ReceiptOutcome.Broken;
        }

        private ReceiptOutcome Fork(ReceivedLine line)
        {
            if (forked.Add(line.Entry.Hash) && !held.forked.Contains(line.Entry.Hash))
            {
                Forks.Add(line);
            }

            return ReceiptOutcome.Taken;
        }
    }
}
