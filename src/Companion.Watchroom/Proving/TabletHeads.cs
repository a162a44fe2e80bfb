using Companion.Contracts;
using Companion.Journal;
using Companion.Journal.Heads;
using Companion.Journal.Proof;
using Companion.Watchroom.Receiving;

namespace Companion.Watchroom.Proving;

/// <summary>
/// What one tablet's chain has told so far: which keys sign its heads, and which heads there are. A tablet's chain arrives under the signature
/// of the key that the tablet was paired with, and it names the key of the journal itself. Used by one thread at a time.
/// </summary>
internal sealed class TabletHeads(string device)
{
    private readonly Dictionary<string, string> keys = [];
    private long reached;

    /// <summary>The key by which a head was signed; null when the chain names none of that id.</summary>
    public string? KeyOf(JournalEntry head) => keys.Values.FirstOrDefault(
        key => HeadStatement.Misfit(head, new Dictionary<string, string> { [HeadStatement.KeyId(key)] = key }) is null);

    /// <summary>Heads that came since the last look: each with what does not fit about it, or null.</summary>
    /// <exception cref="IOException">The disk fails.</exception>
    public IReadOnlyList<(HeadLeaf? Leaf, string? Misfit)> Look(IJournalReceiver receiver)
    {
        var found = new List<(HeadLeaf?, string?)>();
        foreach (var line in receiver.Read(device, Chains.Tablet, reached + 1))
        {
            var entry = ExportLine.Parse(line);
            if (HeadStatement.PublicKeyIn(entry) is { } key)
            {
                keys[HeadStatement.KeyId(key)] = key;
            }

            if (entry.Type == EntryTypes.HeadSigned)
            {
                found.Add(HeadStatement.Misfit(entry, keys) is { } misfit
                    ? (null, $"The signed head {entry.Chain}/{entry.Sequence} is not counter-signed: {misfit}.")
                    : (new HeadLeaf(device, entry), null));
            }

            reached = entry.Sequence;
        }

        return found;
    }
}
