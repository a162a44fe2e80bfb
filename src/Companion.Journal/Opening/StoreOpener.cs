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
        catch (IOException cause)
        {
            throw new StoreFaultException(
                $"The store {root} is already open in this or another program, or its lock file cannot be used. "
                + "Close the other one first.",
                cause);
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
        var hadLedger = disk.Exists(files.Data);
        var (ledger, ledgerDamage) = TryOpenLedger(files);
        var survey = WitnessSurvey.Take(disk, files, ledger, texts.Keys);
        RefuseOtherKind(survey.Identity);
        if (survey.Damage is { } damage)
        {
            return StartSegment(files, held, ledger, texts, damage);
        }

        var (parts, isNewKey) = Parts(files, survey);
        TrimWitness(files, survey);
        if (ledger is null || survey.LedgerFault is not null)
        {
            ledger?.Dispose();
            SetAsideLedger(files, ledgerDamage ?? survey.LedgerFault!);
            ledger = Held(LedgerStore.Open(disk, files));
            new RollForward(disk, files, ledger, texts).From(0);
        }
        else if (survey.InLedger < survey.Index.Arrivals)
        {
            NoteRollForward(files, survey, hadLedger);
            new RollForward(disk, files, ledger, texts).From(survey.InLedger);
        }

        var sealedFile = Held(new SealedReconciler(disk, files, ledger, findings).Agree(texts, sealedState, survey));
        var witness = Held(FrameFile.OpenAt(disk, files.Witness, survey.WholeEnd));
        disk.SyncDirectory(files.Directory);
        return new OpenedStore(files, parts, held, witness, sealedFile, ledger, survey.Index, survey.HeadClock, isNewKey, findings);
    }

    private (LedgerStore? Ledger, string? Damage) TryOpenLedger(StoreFiles files)
    {
        try
        {
            return (Held(LedgerStore.Open(disk, files)), null);
        }
        catch (LedgerDamageException cause)
        {
            return (null, cause.Message);
        }
    }

    private (StoreParts Parts, bool IsNewKey) Parts(StoreFiles files, WitnessSurvey survey)
    {
        var identity = survey.Identity ?? NewIdentity();
        var signer = options.Signer ?? Key(files);
        var isNew = survey.PublicKey is not null && survey.PublicKey != signer.PublicKey;
        if (isNew)
        {
            findings.Add(new StoreFinding(
                false,
                $"The tablet's signing key in {root} is missing or another one than before. "
                + "Signed heads go on with a new key; tell the team lead."));
        }

        return (new StoreParts(identity, signer, options.Salts, options.Clock), isNew);
    }

    private StoreIdentity NewIdentity() => options.Kind is { } kind
        ? new StoreIdentity(options.TabletId ?? Guid.NewGuid(), kind)
        : throw new StoreFaultException($"There is no store in {root}, and a new one must be told whether it is real or a rehearsal.");

    private TabletKey Key(StoreFiles files) => Held(TabletKey.Read(disk, files.Key) ?? TabletKey.Create(disk, files.Key));

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
        findings.Add(new StoreFinding(
            false,
            $"The last write had been interrupted before it was acknowledged: {survey.RaggedLength} bytes were trimmed from the witness. "
            + "Nothing that was confirmed is missing."));
    }

    private void NoteRollForward(StoreFiles files, WitnessSurvey survey, bool hadLedger)
    {
        var missing = survey.Index.Arrivals - survey.InLedger;
        if (hadLedger || files.Segment == 1)
        {
            findings.Add(new StoreFinding(
                false, $"LiteDB lacked the last {missing} entries of the witness; they were put in again from it. Nothing is missing."));
        }
    }

    private void SetAsideLedger(StoreFiles files, string reason)
    {
        var number = 1;
        while (disk.Names(files.Directory).Any(n => n.StartsWith(KeptPrefix(number), StringComparison.Ordinal)))
        {
            number++;
        }

        foreach (var path in files.LedgerFiles.Where(disk.Exists))
        {
            disk.Rename(path, Path.Combine(files.Directory, KeptPrefix(number) + Path.GetFileName(path)));
        }

        disk.SyncDirectory(files.Directory);
        findings.Add(new StoreFinding(
            false,
            $"The LiteDB store was damaged ({reason}) and has been built again from the witness, which holds every entry. "
            + $"The damaged files are kept as {KeptPrefix(number)}* in {files.Directory}."));
    }

    private static string KeptPrefix(int number) => $"kept-{number:D4}-";

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
            var identity = salvage.Identity ?? NewIdentity();
            RefuseOtherKind(identity);
            foreach (var (hash, kept) in ledger?.AllSealed() ?? new Dictionary<string, SealedTexts>())
            {
                texts.TryAdd(hash, kept);
            }

            var signer = options.Signer ?? Key(files);
            salvage.WriteNext(disk, files.Next(), new StoreParts(identity, signer, options.Salts, options.Clock), damage, texts);
            findings.Add(new StoreFinding(
                true,
                $"The journal was damaged: {damage}. {salvage.Held.Count} entries hold and were taken over; "
                + "these chains go on with a new segment: "
                + $"{string.Join(", ", salvage.Broken)}. The damaged files are kept untouched in {files.Directory}: "
                + "copy them for the team lead. "
                + "Treat every proof of this job as void and start its waits again."));
        }

        return OpenSet(files.Next(), held);
    }
}
