using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal;

namespace Companion.Simulation.Ports;

/// <summary>
/// The real journal, its appends made to complete before they return, so that the same seed always takes the same way; and an ear at
/// what goes in and what comes out.
/// </summary>
internal sealed class TappedJournal(JournalStore store) : IJournal
{
    /// <summary>Called with what is to be made durable.</summary>
    public required Action<IReadOnlyList<EntryDraft>> Before { get; init; }

    /// <summary>Called with what is durable.</summary>
    public required Action<IReadOnlyList<JournalEntry>> After { get; init; }

    /// <summary>True while the disk answers nothing any more.</summary>
    public bool Hangs { get; set; }

    /// <inheritdoc/>
    public StoreKind Kind => store.Kind;

    /// <inheritdoc/>
    public IReadOnlyList<StoreFinding> Findings => store.Findings;

    /// <inheritdoc/>
    public ValueTask<IReadOnlyList<JournalEntry>> AppendAsync(IReadOnlyList<EntryDraft> drafts, CancellationToken cancellation = default)
    {
        Before(drafts);
        if (Hangs)
        {
            return new ValueTask<IReadOnlyList<JournalEntry>>(new TaskCompletionSource<IReadOnlyList<JournalEntry>>().Task);
        }

        var entries = store.AppendAsync(drafts, cancellation).AsTask().GetAwaiter().GetResult();
        After(entries);
        return new ValueTask<IReadOnlyList<JournalEntry>>(entries);
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> ChainNames() => store.ChainNames();

    /// <inheritdoc/>
    public IReadOnlyList<JournalEntry> Read(string chain, long fromSequence = 1) => store.Read(chain, fromSequence);

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => store.DisposeAsync();
}
