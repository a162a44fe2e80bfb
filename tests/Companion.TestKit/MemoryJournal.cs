using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Engine.Ports;

namespace Companion.TestKit;

/// <summary>
/// A journal without a disk: real places, sealed texts and chain names, hashes that only serve to tell entries apart. A test can hold appends
/// back, let them fail, erase personal texts, and open the same entries again as after a restart.
/// </summary>
public sealed class MemoryJournal : IJournal
{
    private static readonly string Zeros = new('0', 64);

    private readonly Lock _lock = new();
    private readonly List<JournalEntry> _entries;
    private TaskCompletionSource? _held;
    private string? _fault;
    private bool _broken;

    /// <summary>An empty journal.</summary>
    public MemoryJournal(StoreKind kind = StoreKind.Real)
        : this(kind, [], [])
    {
    }

    private MemoryJournal(StoreKind kind, IEnumerable<JournalEntry> entries, IReadOnlyList<StoreFinding> findings)
    {
        Kind = kind;
        _entries = [.. entries];
        Findings = findings;
    }

    /// <inheritdoc/>
    public StoreKind Kind { get; }

    /// <inheritdoc/>
    public IReadOnlyList<StoreFinding> Findings { get; }

    /// <summary>Every entry, in order of arrival.</summary>
    public IReadOnlyList<JournalEntry> All
    {
        get
        {
            lock (_lock)
            {
                return [.. _entries];
            }
        }
    }

    /// <summary>How many appends were asked for.</summary>
    public int Appends { get; private set; }

    /// <summary>From now on appends hang until <see cref="Release"/>.</summary>
    public void Hold()
    {
        lock (_lock)
        {
            _held ??= new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        }
    }

    /// <summary>Lets held appends go on.</summary>
    public void Release()
    {
        TaskCompletionSource? held;
        lock (_lock)
        {
            held = _held;
            _held = null;
        }

        held?.SetResult();
    }

    /// <summary>The next append fails with these words, and every one after it.</summary>
    public void FailNext(string words) => _fault = words;

    /// <summary>The same entries as another process would find them.</summary>
    public MemoryJournal Reopen(params StoreFinding[] findings) => new(Kind, All, findings);

    /// <summary>Forgets every personal text; the entries keep their hashes.</summary>
    public void EraseSealed()
    {
        lock (_lock)
        {
            for (var index = 0; index < _entries.Count; index++)
            {
                _entries[index] = _entries[index] with { Sealed = new Dictionary<string, SealedText>() };
            }
        }
    }

    /// <inheritdoc/>
    public async ValueTask<IReadOnlyList<JournalEntry>> AppendAsync(IReadOnlyList<EntryDraft> drafts, CancellationToken cancellation = default)
    {
        Task? held;
        lock (_lock)
        {
            Appends++;
            held = _held?.Task;
        }

        if (held is not null)
        {
            await held.ConfigureAwait(false);
        }

        lock (_lock)
        {
            if (_broken || _fault is not null)
            {
                _broken = true;
                throw new StoreFaultException(_fault ?? "The store has failed.");
            }

            var written = new List<JournalEntry>();
            foreach (var draft in drafts)
            {
                written.Add(Place(draft));
                _entries.Add(written[^1]);
            }

            return written;
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> ChainNames()
    {
        lock (_lock)
        {
            return [.. _entries.Select(entry => entry.Chain).Distinct().OrderBy(chain => chain != Chains.Tablet)];
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<JournalEntry> Read(string chain, long fromSequence = 1)
    {
        lock (_lock)
        {
            return [.. _entries.Where(entry => entry.Chain == chain && entry.Sequence >= fromSequence)];
        }
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    private static (string Data, Dictionary<string, SealedText> Sealed) Seal(EntryDraft draft, string salt)
    {
        var data = (JsonObject)JsonNode.Parse(draft.Data)!;
        var texts = new Dictionary<string, SealedText>();
        foreach (var (name, text) in draft.Personal)
        {
            data[name] = Hash(salt + text);
            texts[name] = new SealedText(salt, text);
        }

        return (data.ToJsonString(), texts);
    }

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private JournalEntry Place(EntryDraft draft)
    {
        var last = _entries.LastOrDefault(entry => entry.Chain == draft.Chain);
        var sequence = (last?.Sequence ?? 0) + 1;
        var (data, texts) = Seal(draft, Hash($"{draft.Chain}/{sequence}")[..32]);
        var previous = last?.Hash ?? Zeros;
        return new JournalEntry(
            draft.Chain, sequence, draft.Type, draft.Time, draft.BootId, draft.Uptime, Kind == StoreKind.Rehearsal, data, previous,
            Hash(previous + draft.Type + draft.BootId + draft.Uptime + data), Encoding.UTF8.GetBytes(data), texts);
    }
}
