using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Heads;
using Companion.Journal.Linking;

namespace Companion.Journal.Proof;

/// <summary>
/// Checks entries one after another, of any number of chains in any interleaving, and at the end whether the signed heads agree with
/// what was seen. The watch room can use it on what tablets send. Used by one thread.
/// </summary>
public sealed class ChainVerifier
{
    private readonly Dictionary<string, Dictionary<long, string>> hashes = [];
    private readonly Dictionary<string, ChainHead> heads = [];
    private readonly Dictionary<string, ChainSpan> spans = [];
    private readonly Dictionary<string, string> publicKeys = [];
    private readonly List<(HeadStatement Statement, JournalEntry Entry)> statements = [];
    private readonly Dictionary<string, long> headsDue = [];
    private readonly List<string> notes = [];
    private Guid? tablet;
    private bool? rehearsal;

    /// <summary>Entries that hold so far.</summary>
    public long Entries { get; private set; }

    /// <summary>Chains seen.</summary>
    public int ChainCount => heads.Count;

    /// <summary>The first entry that does not hold.</summary>
    public BadEntry? FirstBad { get; private set; }

    /// <summary>Segments met.</summary>
    public IReadOnlyList<string> Notes => notes;

    /// <summary>The tablet that all come from; null before the first.</summary>
    internal Guid? Tablet => tablet;

    /// <summary>The chains seen, in order of their first entry, from where to where.</summary>
    internal IReadOnlyCollection<ChainSpan> Spans => spans.Values;

    /// <summary>From where to where a chain was seen; null when it was not.</summary>
    internal ChainSpan? SpanOf(string chain) => spans.TryGetValue(chain, out var span) ? span : null;

    /// <summary>The hash of an entry that holds; null when there is none.</summary>
    internal string? HashOf(string chain, long sequence) => hashes.GetValueOrDefault(chain)?.GetValueOrDefault(sequence);

    /// <summary>Checks the next entry; false, and nothing more is taken, when it does not hold.</summary>
    public bool Take(ReadOnlyMemory<byte> bytes)
    {
        if (FirstBad is not null)
        {
            return false;
        }

        try
        {
            var entry = EntryCodec.Parse(bytes);
            if (Misfit(entry) is { } misfit)
            {
                FirstBad = new BadEntry(entry.Chain, entry.Sequence, misfit);
                return false;
            }

            Note(entry);
            return true;
        }
        catch (FormatException cause)
        {
            return Refuse(bytes, cause.Message);
        }
    }

    /// <summary>Names an entry as bad for a reason found outside its chain.</summary>
    public bool Refuse(ReadOnlyMemory<byte> bytes, string what)
    {
        var place = EntryCodec.ClaimedPlace(bytes);
        FirstBad ??= new BadEntry(place?.Chain ?? "", place?.Sequence ?? Entries + 1, what);
        return false;
    }

    /// <summary>What the signed heads say that was not seen: call after the last entry.</summary>
    public IReadOnlyList<string> MissingEnds()
    {
        var problems = new List<string>();
        foreach (var (statement, entry) in statements)
        {
            var (job, head) = (statement.Job, statement.Head);
            var seen = heads.GetValueOrDefault(job, ChainHead.Empty);
            if (seen.Sequence < head.Sequence)
            {
                problems.Add(
                    $"the signed head {entry.Chain}/{entry.Sequence} says that {job} has {head.Sequence} entries; only {seen.Sequence} are here");
            }
            else if (hashes[job].TryGetValue(head.Sequence, out var hash) && hash != head.Hash)
            {
                problems.Add($"entry {job}/{head.Sequence} is not the one the signed head {entry.Chain}/{entry.Sequence} names");
            }
        }

        problems.AddRange(MissingHeads());
        return problems;
    }

    /// <summary>
    /// A head is written in one piece with the entry that makes it due, so the end of the tablet's chain cannot go unnoticed.
    /// </summary>
    private IEnumerable<string> MissingHeads()
    {
        if (!heads.ContainsKey(Chains.Tablet))
        {
            yield break;
        }

        var signed = statements.GroupBy(s => s.Statement.Job).ToDictionary(g => g.Key, g => g.Max(s => s.Statement.Head.Sequence));
        foreach (var (job, sequence) in headsDue.Where(due => signed.GetValueOrDefault(due.Key) < due.Value))
        {
            yield return $"the tablet's chain lacks the signed head that goes with {job}/{sequence}: its end is missing";
        }
    }

    private string? Misfit(JournalEntry entry)
    {
        var source = EntryCodec.TabletOf(entry);
        if (source != (tablet ??= source))
        {
            return $"it comes from tablet {source}, the others from {tablet}";
        }

        if (entry.Rehearsal != (rehearsal ??= entry.Rehearsal))
        {
            return "real and rehearsal entries are mixed";
        }

        if (ChainLink.Misfit(heads.GetValueOrDefault(entry.Chain, ChainHead.Empty), entry) is { } misfit)
        {
            return misfit;
        }

        if (entry is { Chain: Chains.Tablet, Sequence: 1 } && entry.Type is not (EntryTypes.StoreCreated or EntryTypes.SegmentStarted))
        {
            return $"the first entry of a store is {EntryTypes.StoreCreated}, not {entry.Type}";
        }

        return entry is { Chain: Chains.Tablet, Type: EntryTypes.HeadSigned } ? HeadStatement.Misfit(entry, publicKeys) : null;
    }

    private void Note(JournalEntry entry)
    {
        var before = heads.GetValueOrDefault(entry.Chain, ChainHead.Empty);
        if (entry.Type == EntryTypes.SegmentStarted)
        {
            notes.Add($"{entry.Chain}/{entry.Sequence} starts a new segment after entry {before.Sequence}");
        }

        if (entry.Chain != Chains.Tablet && entry.Type is EntryTypes.JobOpened or EntryTypes.JobClosed or EntryTypes.JobHandedOver)
        {
            headsDue[entry.Chain] = entry.Sequence;
        }

        if (HeadStatement.PublicKeyIn(entry) is { } publicKey)
        {
            publicKeys[HeadStatement.KeyId(publicKey)] = publicKey;
        }

        if (entry is { Chain: Chains.Tablet, Type: EntryTypes.HeadSigned })
        {
            statements.Add((HeadStatement.Of(entry), entry));
        }

        heads[entry.Chain] = new ChainHead(entry.Sequence, entry.Hash);
        spans[entry.Chain] = spans.TryGetValue(entry.Chain, out var span) ? span with { Last = entry } : new ChainSpan(entry, entry);
        if (!hashes.TryGetValue(entry.Chain, out var known))
        {
            hashes.Add(entry.Chain, known = []);
        }

        known.Add(entry.Sequence, entry.Hash);
        Entries++;
    }
}
