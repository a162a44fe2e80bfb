using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Heads;
using Companion.Journal.Ledger;
using Companion.Journal.Opening;
using Companion.Journal.Retention;

namespace Companion.Journal;

/// <summary>
/// The journal on the tablet's disk: a witness file that is the authority, and a LiteDB store that answers reads. One writer thread
/// takes appends in order; an append completes only when both hold it durably. The first failed write ends all writing: the state of
/// the files is then unknown, and only opening the store again finds it out. Reads from any thread.
/// </summary>
public sealed class JournalStore : IJournal
{
    /// <summary>Why a segment is started when only the signing key changed: nothing is missing then.</summary>
    internal const string NewKeyReason = "the tablet's signing key changed";

    private readonly OpenedStore store;
    private readonly StoreWords words;
    private readonly WriterThread writer;
    private volatile StoreFaultException? fault;

    private JournalStore(OpenedStore store, StoreWords words)
    {
        (this.store, this.words) = (store, words);
        writer = new WriterThread(CheckpointWhenDue);
    }

    /// <summary>Raised when personal texts were erased: whoever keeps copies of them lets go of those. Handlers return at once.</summary>
    public event Action? Erased;

    /// <inheritdoc/>
    public StoreKind Kind => store.Parts.Store.Kind;

    /// <summary>The tablet that writes this store.</summary>
    public Guid TabletId => store.Parts.Store.Tablet;

    /// <summary>Why nothing is written any more, in plain words; null while all is well.</summary>
    public string? Failure => fault?.Message;

    /// <summary>The folder of the files in use.</summary>
    public string FilesDirectory => store.Files.Directory;

    /// <inheritdoc/>
    public IReadOnlyList<StoreFinding> Findings => store.Findings;

    /// <summary>
    /// Opens or makes the store in a folder, verifying every entry first. Throws <see cref="StoreFaultException"/> for the other kind of
    /// store, a store that is open elsewhere, or a disk that fails.
    /// </summary>
    public static async Task<JournalStore> OpenAsync(string directory, StoreOptions options)
    {
        var words = new StoreWords(directory, options);
        OpenedStore opened;
        try
        {
            opened = await Task.Run(() => new StoreOpener(directory, options).Open()).ConfigureAwait(false);
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException or LedgerDamageException)
        {
            throw new StoreFaultException(words.CannotOpen(cause), cause);
        }

        var journal = new JournalStore(opened, words);
        try
        {
            await journal.writer.Run(journal.WriteOpeningEntries, CancellationToken.None).ConfigureAwait(false);
            return journal;
        }
        catch
        {
            await journal.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    /// <inheritdoc/>
    public async ValueTask<IReadOnlyList<JournalEntry>> AppendAsync(
        IReadOnlyList<EntryDraft> drafts, CancellationToken cancellation = default) =>
        await writer.Run(() => Append(drafts), cancellation).ConfigureAwait(false);

    /// <summary>Records the signed head of every open job in the tablet's chain.</summary>
    public async Task RecordHeadsAsync(CancellationToken cancellation = default) => await writer.Run(
        () =>
        {
            var builder = NewBatch();
            builder.AddHeads(store.HeadClock.OpenJobs.Order(StringComparer.Ordinal));
            Commit(builder.Entries);
            return true;
        },
        cancellation).ConfigureAwait(false);

    /// <summary>
    /// Erases the personal texts and salts of one entry for good; the chain stays provable because it only ever held their hashes.
    /// False when the entry has none.
    /// </summary>
    public async Task<bool> EraseSealedAsync(string chain, long sequence, CancellationToken cancellation = default) =>
        await writer.Run(() => EraseSealed([new(chain, sequence, [])]), cancellation).ConfigureAwait(false) > 0;

    /// <summary>
    /// Erases personal texts of entries, with their salts, for good and in one go; returns how many there were. A place without members
    /// stands for all of its entry.
    /// </summary>
    public async Task<int> EraseSealedAsync(IReadOnlyList<SealedPlace> places, CancellationToken cancellation = default) =>
        await writer.Run(() => EraseSealed(places), cancellation).ConfigureAwait(false);

    /// <summary>Where a chain ends now. Only for the one who writes that chain, and not while an append of theirs is under way.</summary>
    public WitnessMark MarkOf(string chain)
    {
        var head = store.Index.HeadOf(chain);
        return new WitnessMark(store.Files.Segment, store.Witness.End, chain, head.Sequence, head.Hash);
    }

    /// <summary>True when another process, or this one, has the store in a folder open.</summary>
    public static bool IsOpen(IDisk disk, string directory)
    {
        if (!disk.Exists(directory))
        {
            return false;
        }

        try
        {
            disk.Lock(StoreFiles.Current(disk, directory).Lock).Dispose();
            return false;
        }
        catch (IOException)
        {
            return true;
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> ChainNames() => store.Index.Names();

    /// <inheritdoc/>
    public IReadOnlyList<JournalEntry> Read(string chain, long fromSequence = 1)
    {
        var arrivals = store.Index.ArrivalsOf(chain, fromSequence);
        try
        {
            return [.. ChainReader.Read(store.Ledger, arrivals).Select(e => e with { Sealed = store.Sealed.Of(e.Hash) })];
        }
        catch (Exception cause) when (cause is IOException or FormatException or LedgerDamageException)
        {
            throw Fault(cause);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await writer.StopAsync().ConfigureAwait(false);
        if (fault is null)
        {
            try
            {
                store.Ledger.Checkpoint(always: true);
            }
            catch (Exception cause) when (cause is IOException or LedgerDamageException)
            {
                // Every entry is durable in the witness and in LiteDB's log; the next opening goes on from there.
                store.Ledger.RefuseWrites();
            }
        }

        store.Ledger.Dispose();
        store.Witness.Dispose();
        store.Sealed.Dispose();
        (store.Parts.Signer as SigningKey)?.Dispose();
        store.Lock.Dispose();
    }

    private bool WriteOpeningEntries()
    {
        var builder = NewBatch();
        if (store.Index.Arrivals == 0)
        {
            builder.AddOwn(Chains.Tablet, EntryTypes.StoreCreated, "new store");
        }
        else if (store.IsNewKey)
        {
            builder.AddOwn(Chains.Tablet, EntryTypes.SegmentStarted, NewKeyReason);
        }

        Commit(builder.Entries);
        return true;
    }

    private IReadOnlyList<JournalEntry> Append(IReadOnlyList<EntryDraft> drafts)
    {
        var builder = NewBatch();
        IReadOnlyList<JournalEntry> placed;
        try
        {
            placed = builder.Place(drafts);
        }
        catch (FormatException cause)
        {
            throw new ArgumentException($"The entry cannot be recorded as it is: {cause.Message}", nameof(drafts), cause);
        }

        Commit(builder.Entries);
        return placed;
    }

    /// <summary>The order matters: texts, then the witness, then LiteDB, each durable before the next, and only then the index.</summary>
    private void Commit(IReadOnlyList<JournalEntry> entries)
    {
        if (entries.Count == 0)
        {
            return;
        }

        var payload = EntryBatch.Join(entries);
        if (payload.Length > FrameFile.LargestPayload)
        {
            throw new ArgumentException($"The batch has {payload.Length} bytes; the limit is {FrameFile.LargestPayload}.");
        }

        FaultOnFailure(() =>
        {
            store.Sealed.Append(entries);
            store.Witness.Append(payload);
            store.Ledger.Insert([.. entries.Select((e, i) => new LedgerRow(store.Index.Arrivals + 1 + i, e))]);
        });
        foreach (var entry in entries)
        {
            store.Index.Add(entry);
            store.HeadClock.Note(entry);
        }
    }

    private int EraseSealed(IReadOnlyList<SealedPlace> places)
    {
        ThrowIfFaulted();
        var (left, erased) = (new Dictionary<string, SealedTexts>(), 0);
        foreach (var place in places)
        {
            if (store.Index.ArrivalOf(place.Chain, place.Sequence) is not { } arrival)
            {
                continue;
            }

            var hash = ChainReader.Read(store.Ledger, [arrival]).Single().Hash;
            var before = left.GetValueOrDefault(hash) ?? store.Sealed.Of(hash);
            var kept = before.Where(text => place.Members.Count > 0 && !place.Members.Contains(text.Key)).ToDictionary();
            if (kept.Count < before.Count)
            {
                left[hash] = kept;
                erased += before.Count - kept.Count;
            }
        }

        if (erased > 0)
        {
            FaultOnFailure(() =>
            {
                store.Sealed.Replace(left);
                store.Ledger.ReplaceSealed(left);
            });
            Erased?.Invoke();
        }

        return erased;
    }

    private void CheckpointWhenDue()
    {
        if (fault is not null)
        {
            return;
        }

        try
        {
            store.Ledger.Checkpoint(always: false);
        }
        catch (Exception cause)
        {
            // Nobody waits for this; the next append is refused with these words.
            Fault(cause);
        }
    }

    private BatchBuilder NewBatch()
    {
        ThrowIfFaulted();
        return new BatchBuilder(store.Parts, store.Index, store.HeadClock);
    }

    private void FaultOnFailure(Action write)
    {
        try
        {
            write();
        }
        catch (Exception cause)
        {
            throw Fault(cause);
        }
    }

    private StoreFaultException Fault(Exception cause)
    {
        fault ??= new StoreFaultException(words.Failed(cause), cause);
        store.Ledger.RefuseWrites();
        return fault;
    }

    private void ThrowIfFaulted()
    {
        if (fault is { } known)
        {
            throw new StoreFaultException(known.Message, known);
        }
    }
}
