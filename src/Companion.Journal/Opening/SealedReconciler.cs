using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Frames;
using Companion.Journal.Ledger;

namespace Companion.Journal.Opening;

/// <summary>
/// Makes the sealed file and LiteDB's sealed texts agree. A sound file decides, because an erasure rewrites it first; a damaged one is
/// kept and completed from LiteDB. Texts of entries that never became durable are dropped. Used by one thread.
/// </summary>
internal sealed class SealedReconciler(IDisk disk, StoreFiles files, LedgerStore ledger, List<StoreFinding> findings)
{
    /// <summary>Brings both into agreement and opens the file.</summary>
    public SealedFile Agree(Dictionary<string, SealedTexts> texts, SealedFileState state, WitnessSurvey survey)
    {
        var inLedger = ledger.AllSealed();
        var keep = texts.Where(t => survey.SealedHashes.Contains(t.Key)).ToDictionary();
        if (state != SealedFileState.Sound)
        {
            Complete(keep, inLedger, state);
        }

        var erased = inLedger.Keys.Where(h => !keep.ContainsKey(h)).ToList();
        if (erased.Count > 0)
        {
            ledger.EraseSealed(erased);
        }

        var missing = keep.Where(t => !inLedger.ContainsKey(t.Key)).ToList();
        if (missing.Count > 0)
        {
            ledger.InsertSealed(missing);
        }

        return SealedFile.Rewrite(disk, files.Sealed, keep);
    }

    private void Complete(
        Dictionary<string, SealedTexts> keep,
        IReadOnlyDictionary<string, SealedTexts> inLedger,
        SealedFileState state)
    {
        var before = keep.Count;
        foreach (var (hash, found) in inLedger)
        {
            keep.TryAdd(hash, found);
        }

        // An interrupted append is ragged too, but LiteDB then has nothing that the file lacks.
        if (state == SealedFileState.Damaged || keep.Count > before)
        {
            KeepDamagedFile();
        }
    }

    private void KeepDamagedFile()
    {
        var kept = $"{files.Sealed}.damaged";
        disk.Rename(files.Sealed, kept);
        disk.SyncDirectory(files.Directory);
        findings.Add(new StoreFinding(
            true,
            $"The file of personal texts was damaged. It is kept as {kept}; the texts were completed from LiteDB, some may be missing. "
            + "The chain of entries is not affected."));
    }
}
