using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal;

namespace Companion.Watchroom;

/// <summary>
/// A journal that may still be opening: an append waits for it, a read blocks until it is open. When it cannot be opened both throw
/// <see cref="StoreFaultException"/>. Any thread.
/// </summary>
internal sealed class OpeningJournal(Task<JournalStore> opening) : IJournal
{
    /// <inheritdoc/>
    public StoreKind Kind => StoreKind.Real;

    /// <inheritdoc/>
    public IReadOnlyList<StoreFinding> Findings => opening.IsCompletedSuccessfully ? Store.Findings : [];

    /// <summary>Why nothing is written any more, in plain words; null while all is well, or while it is not open.</summary>
    public string? Failure => opening.IsCompletedSuccessfully ? Store.Failure : null;

    /// <summary>The store; blocks until it is open.</summary>
    public JournalStore Store => opening.GetAwaiter().GetResult();

    /// <inheritdoc/>
    public async ValueTask<IReadOnlyList<JournalEntry>> AppendAsync(IReadOnlyList<EntryDraft> drafts, CancellationToken cancellation = default)
    {
        var store = await opening.WaitAsync(cancellation).ConfigureAwait(false);
        return await store.AppendAsync(drafts, cancellation).ConfigureAwait(false);
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> ChainNames() => Store.ChainNames();

    /// <inheritdoc/>
    public IReadOnlyList<JournalEntry> Read(string chain, long fromSequence = 1) => Store.Read(chain, fromSequence);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        try
        {
            await (await opening.ConfigureAwait(false)).DisposeAsync().ConfigureAwait(false);
        }
        catch (StoreFaultException)
        {
            // It was never open; whoever needed it has been told.
        }
    }
}
