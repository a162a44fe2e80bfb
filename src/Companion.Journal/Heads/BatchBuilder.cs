using System.Text.Json;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Linking;

namespace Companion.Journal.Heads;

/// <summary>
/// Gives drafts their places after the known ends of their chains and adds the heads they make due, without changing anything:
/// what is not durable has not happened. Used by the writer only.
/// </summary>
internal sealed class BatchBuilder(StoreParts parts, ChainIndex index, HeadClock headClock)
{
    private readonly Dictionary<string, ChainHead> heads = [];
    private readonly List<JournalEntry> entries = [];

    /// <summary>What was placed so far, in order of arrival.</summary>
    public IReadOnlyList<JournalEntry> Entries => entries;

    /// <summary>
    /// Places drafts and the heads that are due after them; throws <see cref="FormatException"/> for a draft breaking the format.
    /// </summary>
    public IReadOnlyList<JournalEntry> Place(IReadOnlyList<EntryDraft> drafts)
    {
        var placed = drafts.Select(draft => Add(draft)).ToList();
        foreach (var job in drafts.Where(headClock.IsDueAfter).Select(d => d.Chain).Distinct())
        {
            var last = drafts.Last(d => d.Chain == job);
            AddHead(job, last.Time, last.BootId, last.Uptime);
        }

        return placed;
    }

    /// <summary>Places signed heads of jobs, as of now.</summary>
    public void AddHeads(IEnumerable<string> jobs)
    {
        var now = parts.Clock.Now();
        foreach (var job in jobs)
        {
            AddHead(job, now.Wall, now.BootId, now.Boot.Nanoseconds);
        }
    }

    private void AddHead(string job, DateTimeOffset time, string bootId, long uptime)
    {
        var data = new HeadStatement(job, HeadOf(job)).Signed(parts.Signer, parts.Store.Tablet, HeadOf(Chains.Tablet).Hash);
        Add(new EntryDraft(Chains.Tablet, EntryTypes.HeadSigned, time, bootId, uptime, data, NoTexts));
    }

    /// <summary>Places one draft; <paramref name="sequence"/> leaves a gap, for a segment only.</summary>
    private JournalEntry Add(EntryDraft draft, long? sequence = null)
    {
        var head = HeadOf(draft.Chain);
        var place = new EntryPlace(parts.Store.Tablet, parts.Store.Kind == StoreKind.Rehearsal, sequence ?? head.Sequence + 1, head.Hash);
        var entry = EntryCodec.Encode(draft, place, Seal(draft));
        heads[draft.Chain] = new ChainHead(entry.Sequence, entry.Hash);
        entries.Add(entry);
        return entry;
    }

    /// <summary>
    /// Places an entry of the store's own in the tablet's chain or, after damage, in any: it names the store's kind and key.
    /// </summary>
    public void AddOwn(string chain, string type, string reason, long? sequence = null)
    {
        var now = parts.Clock.Now();
        Add(new EntryDraft(chain, type, now.Wall, now.BootId, now.Boot.Nanoseconds, KindData(reason), NoTexts), sequence);
    }

    /// <summary>Data of the entries that name the store's kind and key.</summary>
    private string KindData(string reason) =>
        JsonSerializer.Serialize(new { kind = NameOf(parts.Store.Kind), reason, publickey = parts.Signer.PublicKey });

    /// <summary>A kind's name in entries.</summary>
    public static string NameOf(StoreKind kind) => kind == StoreKind.Real ? "real" : "rehearsal";

    /// <summary>For entries without personal texts.</summary>
    private static readonly IReadOnlyDictionary<string, string> NoTexts = new Dictionary<string, string>();

    private ChainHead HeadOf(string chain) => heads.TryGetValue(chain, out var head) ? head : index.HeadOf(chain);

    private Dictionary<string, SealedText> Seal(EntryDraft draft)
    {
        var texts = new Dictionary<string, SealedText>();
        Span<byte> salt = stackalloc byte[PersonalText.SaltLength];
        foreach (var (name, text) in draft.Personal)
        {
            parts.Salts.Fill(salt);
            texts.Add(name, PersonalText.Seal(salt, text));
        }

        return texts;
    }
}
