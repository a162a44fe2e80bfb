using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Frames;
using Companion.Journal.Ledger;

namespace Companion.Journal.Opening;

/// <summary>
/// Makes the sealed file and LiteDB's sealed texts agree. Erased in one is erased in both: an interrupted erasure is finished, and an
/// older copy of one brings nothing back. A text that only LiteDB has was lost from the file; the file is kept and completed. Texts of
/// entries that never became durable are dropped. Used by one thread.
/// </summary>
internal sealed class SealedReconciler(IDisk disk, StoreFiles files, LedgerStore ledger, List<StoreFinding> findings)
{
    /// <summary>Brings both into agreement and opens the file.</summary>
    public SealedFile Agree(IReadOnlyDictionary<string, SealedTexts> texts, SealedFileState state, WitnessSurvey survey)
    {
        var inLedger = ledger.AllSealed();
        var agreed = Merge(texts.Where(t => survey.SealedHashes.Contains(t.Key)).ToDictionary(), inLedger);
        var lost = agreed.Count(t => t.Value.Count > 0 && !texts.ContainsKey(t.Key));
        if (lost > 0 || state == SealedFileState.Damaged)
        {
            KeepDamagedFile(lost);
        }

        var erased = agreed.Where(t => IsErasedIn(t.Value, inLedger.GetValueOrDefault(t.Key))).ToDictionary();
        if (erased.Count > 0)
        {
            ledger.ReplaceSealed(erased);
        }

        var missing = agreed.Where(t => t.Value.Count > 0 && !inLedger.ContainsKey(t.Key)).ToList();
        if (missing.Count > 0)
        {
            ledger.InsertSealed(missing);
        }

        return SealedFile.Rewrite(disk, files.Sealed, agreed);
    }

    /// <summary>The texts of both; erased where one of them says so, for an entry's texts are written together and only erasing takes one away.</summary>
    public static Dictionary<string, SealedTexts> Merge(
        IReadOnlyDictionary<string, SealedTexts> one, IReadOnlyDictionary<string, SealedTexts> other)
    {
        var merged = new Dictionary<string, SealedTexts>(one);
        foreach (var (hash, texts) in other)
        {
            merged[hash] = merged.TryGetValue(hash, out var known) ? known.Where(text => texts.ContainsKey(text.Key)).ToDictionary() : texts;
        }

        return merged;
    }

    /// <summary>True when the ledger holds more than was agreed on, or does not know yet that all was erased.</summary>
    private static bool IsErasedIn(SealedTexts agreed, SealedTexts? inLedger) => inLedger is null ? agreed.Count == 0 : agreed.Count < inLedger.Count;

    private void KeepDamagedFile(int completed)
    {
        var prefix = disk.Exists(files.Sealed) ? KeptFiles.SetAside(disk, files.Directory, [files.Sealed]) : null;
        findings.Add(FindingWords.TextsDamaged(files.Directory, prefix, completed));
    }
}
