using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Checking;

/// <summary>What the journal acknowledged, remembered outside of it, and held against what it has when it is opened again (I12).</summary>
internal sealed class Memory
{
    private readonly List<JournalEntry> _acknowledged = [];
    private IReadOnlyList<EntryDraft>? _underWay;

    /// <summary>True once bits were flipped behind the journal's back: from then on damage may be reported.</summary>
    public bool MayBeDamaged { get; set; }

    /// <summary>True once an acknowledged entry was found lost, with the finding that says so.</summary>
    public bool Damaged { get; private set; }

    /// <summary>Everything acknowledged, in order.</summary>
    public IReadOnlyList<JournalEntry> Acknowledged => _acknowledged;

    /// <summary>These are on their way.</summary>
    public void Appending(IReadOnlyList<EntryDraft> drafts) => _underWay = drafts;

    /// <summary>These have arrived.</summary>
    public void Durable(IReadOnlyList<JournalEntry> entries)
    {
        _underWay = null;
        _acknowledged.AddRange(entries);
    }

    /// <summary>The store was put back to what it held when so many had been acknowledged: the later ones are no longer its own.</summary>
    public void GoBackTo(int count) => _acknowledged.RemoveRange(count, _acknowledged.Count - count);

    /// <summary>Compares; returns entries that were on their way and did arrive.</summary>
    public IReadOnlyList<JournalEntry> Compare(IJournal journal)
    {
        var found = journal.ChainNames().Where(chain => chain != Chains.Tablet).SelectMany(chain => journal.Read(chain)).ToList();
        var severe = journal.Findings.Any(finding => finding.Severe);
        Oracle.Claim(!severe || MayBeDamaged, $"I12: damage where nothing was damaged: {journal.Findings.FirstOrDefault(finding => finding.Severe)}");
        if (_acknowledged.Where((entry, at) => at >= found.Count || found[at].Hash != entry.Hash).Any())
        {
            Lost(found, severe);
            return [];
        }

        var more = found[_acknowledged.Count..];
        var expected = _underWay?.Select(draft => draft.Type) ?? [];
        if (MayBeDamaged && more.Any(entry => entry.Type == SegmentStarted))
        {
            Damaged = true;
            return [];
        }

        Oracle.Claim(more.Count == 0 || more.Select(entry => entry.Type).SequenceEqual(expected), "I12: entries that nobody decided, or a part of a batch");
        _underWay = null;
        _acknowledged.AddRange(more);
        return more;
    }

    private const string SegmentStarted = "segment.started";

    private void Lost(List<JournalEntry> found, bool severe)
    {
        Oracle.Claim(MayBeDamaged, "I12: an acknowledged entry is lost");
        Oracle.Claim(severe, "I12: an acknowledged entry is lost, and nobody noticed");
        var known = _acknowledged.Select(entry => entry.Hash).ToHashSet();
        Oracle.Claim(found.All(entry => known.Contains(entry.Hash) || entry.Type == SegmentStarted), "I12: an entry was altered and is read as if it were good");
        Damaged = true;
    }
}
