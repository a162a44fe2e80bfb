using System.Text.Json;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Heads;
using Companion.Journal.Ledger;
using Companion.Journal.Linking;

namespace Companion.Journal.Opening;

/// <summary>
/// One pass over the witness, entry by entry, beside the LiteDB store: does every chain hold, does LiteDB hold the same bytes, what
/// lies behind the last whole frame. It changes nothing; opening decides by it. Used by one thread.
/// </summary>
internal sealed class WitnessSurvey
{
    /// <summary>The entries that hold.</summary>
    public ChainIndex Index { get; } = new();

    /// <summary>Heads due and jobs open after the last entry.</summary>
    public HeadClock HeadClock { get; } = new();

    /// <summary>Damage that is the newest thing in the store.</summary>
    public FreshSegment FreshSegment { get; } = new();

    /// <summary>The store's identity; null while it has no entry.</summary>
    public StoreIdentity? Identity { get; private set; }

    /// <summary>The key the tablet's chain named last.</summary>
    public string? PublicKey { get; private set; }

    /// <summary>Hashes of entries with personal texts that are in the chains.</summary>
    public HashSet<string> SealedHashes { get; } = [];

    /// <summary>Where the last whole frame ends.</summary>
    public long WholeEnd { get; private set; }

    /// <summary>Where the last whole frame begins.</summary>
    public long LastFrameStart { get; private set; }

    /// <summary>Bytes behind it.</summary>
    public long RaggedLength { get; private set; }

    /// <summary>Number of leading entries that LiteDB holds byte for byte.</summary>
    public long InLedger { get; private set; }

    /// <summary>How LiteDB's content differs from the witness; null when it holds the same or fewer.</summary>
    public string? LedgerFault { get; private set; }

    /// <summary>What makes this damage and not an interrupted write; null when nothing does.</summary>
    public string? Damage { get; private set; }

    /// <summary>Surveys a file set. <paramref name="ledger"/> is null when LiteDB's files cannot be trusted.</summary>
    public static WitnessSurvey Take(IDisk disk, StoreFiles files, LedgerStore? ledger, IReadOnlyCollection<string> sealedHashes)
    {
        var survey = new WitnessSurvey();
        using var rows = ledger is null ? null : survey.Rows(ledger).GetEnumerator();
        if (disk.Exists(files.Witness))
        {
            using var file = disk.OpenRead(files.Witness);
            survey.Walk(new FrameReader(file), rows, [.. sealedHashes]);
        }

        if (rows is not null && survey.Damage is null && survey.LedgerFault is null && rows.MoveNext())
        {
            survey.Damage = $"LiteDB holds entry {rows.Current.Arrival}, which the witness no longer has";
        }

        if (survey.RaggedLength > 0 && survey.Damage is null
            && (survey.LedgerFault is not null || survey.InLedger != survey.Index.Arrivals))
        {
            survey.Damage = "the witness ends in bytes that do not fit, and LiteDB does not confirm that nothing is missing";
        }

        return survey;
    }

    /// <summary>The identity an opening entry (store created or segment started, in the tablet's chain) states.</summary>
    public static StoreIdentity? IdentityIn(JournalEntry entry)
    {
        if (entry.Chain != Chains.Tablet || entry.Type is not (EntryTypes.StoreCreated or EntryTypes.SegmentStarted))
        {
            return null;
        }

        using var data = JsonDocument.Parse(entry.Data);
        var kind = data.RootElement.TryGetProperty("kind", out var stated) ? stated.ToString() : "";
        return kind == BatchBuilder.NameOf(entry.Rehearsal ? StoreKind.Rehearsal : StoreKind.Real)
            ? new StoreIdentity(EntryCodec.TabletOf(entry), entry.Rehearsal ? StoreKind.Rehearsal : StoreKind.Real)
            : null;
    }

    private void Walk(FrameReader reader, IEnumerator<(long Arrival, byte[] Bytes)>? rows, HashSet<string> sealedHashes)
    {
        foreach (var payload in reader.Whole())
        {
            LastFrameStart = WholeEnd;
            foreach (var bytes in EntryBatch.Split(payload))
            {
                if (Misfit(bytes, sealedHashes) is { } misfit)
                {
                    Damage = misfit;
                    return;
                }

                Compare(bytes, rows);
                if (Damage is not null)
                {
                    return;
                }
            }

            WholeEnd = reader.WholeEnd;
        }

        RaggedLength = reader.RaggedLength;
        if (reader.IsRagged && reader.Beyond().Any())
        {
            Damage = $"bytes at {reader.WholeEnd} of the witness do not fit, and whole entries lie behind them";
        }
    }

    private string? Misfit(ReadOnlyMemory<byte> bytes, HashSet<string> sealedHashes)
    {
        try
        {
            var entry = EntryCodec.Parse(bytes);
            var identity = Identity ?? IdentityIn(entry);
            if (identity is null || identity != new StoreIdentity(
                EntryCodec.TabletOf(entry), entry.Rehearsal ? StoreKind.Rehearsal : StoreKind.Real))
            {
                return $"entry {entry.Chain}/{entry.Sequence} does not belong to this store: "
                    + "another tablet, another kind, or no first entry";
            }

            if (ChainLink.Misfit(Index.HeadOf(entry.Chain), entry) is { } misfit)
            {
                return $"entry {entry.Chain}/{entry.Sequence} does not fit its chain: {misfit}";
            }

            Take(entry, identity, sealedHashes);
            return null;
        }
        catch (NewerFormatException newer)
        {
            // No damage, and nothing to be salvaged: a newer Companion reads all of it.
            throw new StoreFaultException($"Entry number {Index.Arrivals + 1} of this store cannot be read. {newer.Message} Nothing was changed.", newer);
        }
        catch (FormatException cause)
        {
            return $"entry number {Index.Arrivals + 1} in order of arrival cannot be read: {cause.Message}";
        }
    }

    private void Take(JournalEntry entry, StoreIdentity identity, HashSet<string> sealedHashes)
    {
        Identity = identity;
        FreshSegment.Note(entry, Index.Arrivals);
        Index.Add(entry);
        HeadClock.Note(entry);
        PublicKey = HeadStatement.PublicKeyIn(entry) ?? PublicKey;
        if (sealedHashes.Contains(entry.Hash))
        {
            SealedHashes.Add(entry.Hash);
        }
    }

    private void Compare(ReadOnlyMemory<byte> bytes, IEnumerator<(long Arrival, byte[] Bytes)>? rows)
    {
        if (rows is null || LedgerFault is not null || InLedger != Index.Arrivals - 1 || !rows.MoveNext())
        {
            return;
        }

        if (rows.Current.Arrival == Index.Arrivals && bytes.Span.SequenceEqual(rows.Current.Bytes))
        {
            InLedger++;
        }
        else
        {
            LedgerFault = $"document {rows.Current.Arrival} is not entry {Index.Arrivals} of the witness";

            // A whole entry was recorded once: then it is not LiteDB that went wrong, and building it again would drop that entry.
            Damage = IsEntry(rows.Current.Bytes) ? $"LiteDB's {LedgerFault}, and is a whole entry" : null;
        }
    }

    private static bool IsEntry(byte[] bytes)
    {
        try
        {
            _ = EntryCodec.Parse(bytes);
            return true;
        }
        catch (FormatException)
        {
            return false;
        }
    }

    /// <summary>LiteDB's rows as far as they can be read.</summary>
    private IEnumerable<(long Arrival, byte[] Bytes)> Rows(LedgerStore ledger)
    {
        using var rows = ledger.All().GetEnumerator();
        while (true)
        {
            try
            {
                if (!rows.MoveNext())
                {
                    yield break;
                }
            }
            catch (Exception cause) when (cause is LedgerDamageException or PageMisfitException)
            {
                LedgerFault ??= cause.Message;
                yield break;
            }

            yield return rows.Current;
        }
    }
}
