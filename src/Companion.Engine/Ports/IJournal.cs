using Companion.Contracts;

namespace Companion.Engine.Ports;

/// <summary>The append-only, hash-chained log as the loop sees it. One writer; any thread may read.</summary>
public interface IJournal : IAsyncDisposable
{
    /// <summary>Real or rehearsal: the store's first entry says so.</summary>
    StoreKind Kind { get; }

    /// <summary>What opening found: repairs, damage, kept copies. Empty when all was well.</summary>
    IReadOnlyList<StoreFinding> Findings { get; }

    /// <summary>
    /// Gives the drafts their places and makes them durable, all or none. Completes only after the bytes are on the disk.
    /// </summary>
    /// <exception cref="StoreFaultException">Nothing may be believed recorded; the store takes no more until it is opened again.</exception>
    ValueTask<IReadOnlyList<JournalEntry>> AppendAsync(IReadOnlyList<EntryDraft> drafts, CancellationToken cancellation = default);

    /// <summary>The names of all chains, the tablet's first, jobs in order of their first entry.</summary>
    IReadOnlyList<string> ChainNames();

    /// <summary>The entries of one chain from a sequence on, in order.</summary>
    IReadOnlyList<JournalEntry> Read(string chain, long fromSequence = 1);
}
