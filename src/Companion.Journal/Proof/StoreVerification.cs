using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Ledger;

namespace Companion.Journal.Proof;

/// <summary>
/// Checks a store's files: the witness entry by entry, then what LiteDB holds, on a copy in memory. One thread, used once.
/// </summary>
internal sealed class StoreVerification(IDisk disk, StoreFiles files)
{
    private readonly ChainVerifier verifier = new();
    private readonly List<string> problems = [];
    private readonly List<string> notes = [];
    private readonly Dictionary<string, SealedTexts> texts = [];
    private long raggedLength;

    /// <summary>Checks everything.</summary>
    public VerifyReport Run()
    {
        if (SealedFile.Read(disk, files.Sealed, texts) == SealedFileState.Damaged)
        {
            problems.Add("the file of personal texts does not fit its checksums");
        }

        if (files.Segment > 1)
        {
            notes.Add($"this is file set {files.Segment}; the damaged ones before it are kept in {files.Root}");
        }

        var witness = disk.Exists(files.Witness) ? CheckWitness() : [];
        if (verifier.FirstBad is null)
        {
            CheckLedger(witness);
            problems.AddRange(verifier.MissingEnds());
        }

        if (verifier is { Entries: 0, FirstBad: null })
        {
            problems.Add("the store holds no entry");
        }

        return new VerifyReport(verifier.Entries, verifier.ChainCount, verifier.FirstBad, problems, [.. notes, .. verifier.Notes]);
    }

    /// <summary>Checks every entry; returns their checksums in order of arrival, to hold against LiteDB.</summary>
    private List<uint> CheckWitness()
    {
        using var file = disk.OpenRead(files.Witness);
        var reader = new FrameReader(file);
        var sums = new List<uint>();
        foreach (var bytes in reader.Whole().SelectMany(p => EntryBatch.Split(p)))
        {
            if (!verifier.Take(bytes) || !TextsFit(bytes))
            {
                return sums;
            }

            sums.Add(Crc32C.Of(bytes.Span));
        }

        raggedLength = reader.RaggedLength;
        if (raggedLength > 0 && reader.Beyond().Any())
        {
            problems.Add($"bytes at {reader.WholeEnd} of the witness do not fit, and whole entries lie behind them");
        }

        return sums;
    }

    private bool TextsFit(ReadOnlyMemory<byte> bytes)
    {
        var entry = EntryCodec.Parse(bytes);
        if (!texts.TryGetValue(entry.Hash, out var found))
        {
            return true;
        }

        using var data = CanonicalJson.Parse(CanonicalJson.StrictBytes(entry.Data));
        foreach (var (name, text) in found)
        {
            if (!data.RootElement.TryGetProperty(name, out var hash) || hash.GetString() != PersonalText.HashOf(text))
            {
                return verifier.Refuse(bytes, $"the sealed text '{name}' is not the one the entry was made with");
            }
        }

        return true;
    }

    private void CheckLedger(List<uint> witness)
    {
        try
        {
            using var ledger = LedgerStore.Open(new SnapshotDisk(disk), files);
            ledger.SettleLog();
            var held = 0;
            foreach (var (arrival, bytes) in ledger.All())
            {
                if (arrival > witness.Count)
                {
                    problems.Add($"LiteDB holds entry {arrival}, which the witness no longer has");
                    return;
                }

                if (arrival != ++held || Crc32C.Of(bytes) != witness[held - 1])
                {
                    problems.Add($"LiteDB's document {arrival} is not entry {held} of the witness");
                    return;
                }
            }

            CompareEnds(held, witness.Count);
            CompareTexts(ledger.AllSealed());
        }
        catch (Exception cause) when (cause is LedgerDamageException or PageMisfitException)
        {
            problems.Add($"the LiteDB store is damaged: {cause.Message}; opening the store builds it again from the witness");
        }
        catch (IOException cause)
        {
            notes.Add($"LiteDB's files could not be copied, probably because the store is open, and were not checked ({cause.Message})");
            NoteRagged();
        }
    }

    private void CompareTexts(IReadOnlyDictionary<string, SealedTexts> inLedger)
    {
        if (inLedger.Any(t => t.Value.Count > 0 && !texts.ContainsKey(t.Key)))
        {
            problems.Add("the file of personal texts lacks texts that LiteDB holds");
        }

        if (inLedger.Any(t => texts.TryGetValue(t.Key, out var inFile) && (inFile.Count == 0) != (t.Value.Count == 0)))
        {
            notes.Add("texts erased from one copy are still in the other; the next opening erases them there too");
        }
    }

    private void CompareEnds(int inLedger, int inWitness)
    {
        if (inLedger < inWitness)
        {
            notes.Add($"LiteDB lacks the last {inWitness - inLedger} entries of the witness; the next opening puts them in");
        }

        if (raggedLength > 0 && inLedger < inWitness)
        {
            problems.Add($"{raggedLength} bytes at the end of the witness do not fit, and LiteDB does not confirm that nothing is missing");
        }
        else
        {
            NoteRagged();
        }
    }

    private void NoteRagged()
    {
        if (raggedLength > 0)
        {
            notes.Add($"the witness ends in {raggedLength} bytes of a write that was interrupted or is in progress");
        }
    }
}
