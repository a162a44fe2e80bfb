using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Heads;
using Companion.Journal.Ledger;

namespace Companion.Journal.Opening;

/// <summary>
/// Opens a store: locks it, checks every entry, and brings witness, sealed texts and LiteDB into agreement. The witness decides. An
/// interrupted write is trimmed or rolled forward; anything else is damage, whose bytes stay where they are while a new set of files
/// goes on. Used once, by one thread.
/// </summary>
internal sealed class StoreOpener(string root, StoreOptions options)
{
    private readonly IDisk disk = options.Disk;
    private readonly List<StoreFinding> findings = [];
    private readonly Stack<IDisposable> opened = new();

    /// <summary>Opens; throws <see cref="StoreFaultException"/> when the store may not or cannot be used.</summary>
    public OpenedStore Open()
    {
        disk.CreateDirectory(root);
        disk.SyncDirectory(Path.GetDirectoryName(Path.GetFullPath(root)) ?? root);
        var files = StoreFiles.Current(disk, root);
        try
        {
            var held = Held(TakeLock(files));
            RefuseOtherKind(FirstIdentity(files));
            return OpenSet(files, held);
        }
        catch
        {
            while (opened.TryPop(out var open))
            {
                open.Dispose();
            }

            throw;
        }
    }

    private IDisposable TakeLock(StoreFiles files)
    {
        try
        {
            return disk.Lock(files.Lock);
        }
        catch (IOException cause) when (!StoreWords.IsOfDisk(cause))
        {
            throw new StoreFaultException(new StoreWords(root, options).AlreadyOpen(), cause);
        }
    }

    /// <summary>The kind by the first entry alone, so that a store of the other kind is refused before anything in it is touched.</summary>
    private StoreIdentity? FirstIdentity(StoreFiles files)
    {
        if (!disk.Exists(files.Witness))
        {
            return null;
        }

        using var file = disk.OpenRead(files.Witness);
        var payload = new FrameReader(file).Whole().FirstOrDefault();
        try
        {
            return payload is null ? null : WitnessSurvey.IdentityIn(EntryBatch.Parse(payload).First());
        }
        catch (FormatException)
        {
            return null;
        }
    }

    private void RefuseOtherKind(StoreIdentity? identity)
    {
        if (identity is not null && options.Kind is { } wanted && wanted != identity.Kind)
        {
            throw new StoreFaultException(
                $"The store {root} is a {BatchBuilder.NameOf(identity.Kind)} store and was asked for as a "
                + $"{BatchBuilder.NameOf(wanted)} store. "
                + "The two are never mixed: choose another folder.");
        }

        if (identity is not null && options.TabletId is { } tablet && tablet != identity.Tablet)
        {
            throw new StoreFaultException(
                $"The store {root} belongs to tablet {identity.Tablet}, not to {tablet}: each tablet writes its own store. "
                + "Choose another folder.");
        }
    }

    private OpenedStore OpenSet(StoreFiles files, IDisposable held)
    {
        var texts = new Dictionary<string, SealedTexts>();
        var sealedState = SealedFile.Read(disk, files.Sealed, texts);
        var (ledger, ledgerTexts, ledgerDamage) = TryOpenLedger(files);
        var survey = WitnessSurvey.Take(disk, files, ledger, [.. texts.Keys, .. ledgerTexts.Keys]);
        RefuseOtherKind(survey.Identity);
        if (survey.Damage is { } damage)
        {
            return StartSegment(files, held, ledger, SealedReconciler.Merge(texts, ledgerTexts), damage);
        }

        if (survey.FreshSegment is { Reason: { } reason } fresh)
        {
            findings.Add(FindingWords.Damaged(files.Before().Directory, fresh.Before, fresh.Chains, reason));
        }

        var (parts, isNewKey) = Parts(files, survey);
        TrimWitness(files, survey);
        ledger = Agreed(files, survey, ledger, ledgerDamage ?? survey.LedgerFault, texts);
        var sealedFile = Held(new SealedReconciler(disk, files, ledger, findings).Agree(texts, sealedState, survey));
        var witness = Held(FrameFile.OpenAt(disk, files.Witness, survey.WholeEnd));
        disk.SyncDirectory(files.Directory);
        return new OpenedStore(files, parts, held, witness, sealedFile, ledger, survey.Index, survey.HeadClock, isNewKey, findings);
    }

    private (LedgerStore? Ledger, IReadOnlyDictionary<string, SealedTexts> Texts, string? Damage) TryOpenLedger(StoreFiles files)
    {
        try
        {
            var ledger = Held(LedgerStore.Open(disk, files));
            return (ledger, ledger.AllSealed(), null);
        }
        catch (LedgerDamageException cause)
        {
            return (null, new Dictionary<string, SealedTexts>(), cause.Message);
        }
    }

    /// <summary>The ledger with every entry of the witness: as it is, caught up, or made again.</summary>
    private LedgerStore Agreed(
        StoreFiles files, WitnessSurvey survey, LedgerStore? ledger, string? damage, IReadOnlyDictionary<string, SealedTexts> texts)
    {
        if (ledger is not null && damage is null)
        {
            try
            {
                ledger.SettleLog();
                CatchUp(files, survey, ledger, texts);
                return ledger;
            }
            catch (LedgerDamageException cause)
            {
                damage = cause.Message;
            }
        }

        ledger?.Dispose();
        RewriteLastFrame(files, survey);
        var prefix = KeptFiles.SetAside(disk, files.Directory, files.LedgerFiles);
        findings.Add(FindingWords.Rebuilt(files.Directory, prefix, damage!));
        var fresh = Held(LedgerStore.Open(disk, files));
        fresh.SettleLog();
        new RollForward(disk, files, fresh, texts).From(0);
        return fresh;
    }

    private void CatchUp(
        StoreFiles files, WitnessSurvey survey, LedgerStore ledger, IReadOnlyDictionary<string, SealedTexts> texts)
    {
        if (survey.InLedger == survey.Index.Arrivals)
        {
            return;
        }

        // A new segment is written as a witness alone: its first catching up is no finding.
        if (files.Segment == 1 || survey.InLedger > 0)
        {
            findings.Add(FindingWords.CaughtUp(survey.Index.Arrivals - survey.InLedger));
        }

        RewriteLastFrame(files, survey);
        new RollForward(disk, files, ledger, texts).From(survey.InLedger);
    }

    /// <summary>
    /// The sync of the last frame may have failed and the disk forgotten that it owes it: what LiteDB does not confirm is written and
    /// synced again before anything builds on it.
    /// </summary>
    private void RewriteLastFrame(StoreFiles files, WitnessSurvey survey)
    {
        if (survey.LastFrameStart < survey.WholeEnd)
        {
            using var witness = FrameFile.OpenAt(disk, files.Witness, survey.WholeEnd);
            witness.RewriteFrom(survey.LastFrameStart);
        }
    }

    private (StoreParts Parts, bool IsNewKey) Parts(StoreFiles files, WitnessSurvey survey)
    {
        var identity = survey.Identity ?? NewIdentity();
        var signer = options.Signer ?? Key(files);
        var isNew = survey.PublicKey is not null && survey.PublicKey != signer.PublicKey;
        if (isNew)
        {
            findings.Add(FindingWords.NewKey(root));
        }

        return (new StoreParts(identity, signer, options.Salts, options.Clock), isNew);
    }

    private StoreIdentity NewIdentity() => options.Kind is { } kind
        ? new StoreIdentity(options.TabletId ?? Guid.NewGuid(), kind)
        : throw new StoreFaultException($"There is no store in {root}, and a new one must be told whether it is real or a rehearsal.");

    private SigningKey Key(StoreFiles files)
    {
        if (SigningKey.Read(disk, files.Key) is { } known)
        {
            return Held(known);
        }

        if (disk.Exists(files.Key))
        {
            _ = KeptFiles.SetAside(disk, files.Root, [files.Key]);
        }

        return Held(SigningKey.Create(disk, files.Key));
    }

    /// <summary>Remembers what must be let go of again when opening fails half-way.</summary>
    private T Held<T>(T resource)
        where T : IDisposable
    {
        opened.Push(resource);
        return resource;
    }

    private void TrimWitness(StoreFiles files, WitnessSurvey survey)
    {
        if (survey.RaggedLength == 0)
        {
            return;
        }

        using var witness = FrameFile.OpenAt(disk, files.Witness, survey.WholeEnd);
        witness.Trim();
        findings.Add(FindingWords.Trimmed(survey.RaggedLength));
    }

    private OpenedStore StartSegment(
        StoreFiles files,
        IDisposable held,
        LedgerStore? ledger,
        Dictionary<string, SealedTexts> texts,
        string damage)
    {
        using (ledger)
        {
            var salvage = Salvage.Of(disk, files, ledger);
            if (salvage.IsMixed)
            {
                throw new StoreFaultException(FindingWords.Mixed(files.Directory));
            }

            var identity = salvage.Identity ?? NewIdentity();
            RefuseOtherKind(identity);
            var signer = options.Signer ?? Key(files);
            salvage.WriteNext(disk, files.Next(), new StoreParts(identity, signer, options.Salts, options.Clock), damage, texts);
        }

        return OpenSet(files.Next(), held);
    }
}
