using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Frames;
using LiteDB;
using LiteDB.Engine;

namespace Companion.Journal.Ledger;

/// <summary>
/// The LiteDB store: one insert-only collection of entries by arrival number, one of sealed texts by entry hash. Documents are built
/// by hand because the mapper trims text and cuts time to milliseconds. Calls from any thread, one at a time (an own lock); a failed
/// write leaves it refusing all others.
/// </summary>
internal sealed class LedgerStore : IDisposable
{
    /// <summary>
    /// Log size in bytes at which its pages are moved into the data file. LiteDB's own trigger is off: it would not be timed.
    /// </summary>
    public const long CheckpointAt = 4 << 20;

    private const string Entries = "entries";
    private const string SealedCollection = "sealed";
    private const int LargestRead = 256;

    private readonly Lock gate = new();
    private readonly PageStream data;
    private readonly PageStream log;

    private LiteEngine engine;
    private bool disposed;

    private LedgerStore(PageStream data, PageStream log)
    {
        this.data = data;
        this.log = log;
        engine = NewEngine();
    }

    /// <summary>
    /// Opens or makes the store for reading; throws <see cref="LedgerDamageException"/> when it cannot be trusted. The data file stays
    /// as it is until <see cref="SettleLog"/>: a power cut while opening must not tear the copy that confirms the witness.
    /// </summary>
    public static LedgerStore Open(IDisk disk, StoreFiles files)
    {
        var data = OpenPages(disk, files.Data);
        var log = OpenPages(disk, files.Log, data);
        try
        {
            disk.SyncDirectory(files.Directory);
            CutTornTail(log);
            if (data.FirstMisfit() is { } page)
            {
                throw new LedgerDamageException($"page {page} of the data file does not fit its checksum");
            }

            return new LedgerStore(data, log);
        }
        catch (Exception cause)
        {
            data.RefuseWrites();
            log.RefuseWrites();
            data.Dispose();
            log.Dispose();
            if (cause is LedgerDamageException || (cause is IOException && cause is not PageMisfitException))
            {
                throw;
            }

            // LiteDB meets a damaged file with whatever exception its parsing runs into.
            throw new LedgerDamageException($"LiteDB cannot open it ({cause.Message})", cause);
        }
    }

    /// <summary>All rows in order of arrival, with the arrival number stored; bytes unparsed.</summary>
    public IEnumerable<(long Arrival, byte[] Bytes)> All()
    {
        var next = 1L;
        while (true)
        {
            var rows = Between(next, next + LargestRead - 1).ToList();
            foreach (var row in rows)
            {
                yield return row;
            }

            next += LargestRead;
            if (rows.Count == 0 && next > LastArrival())
            {
                yield break;
            }
        }
    }

    /// <summary>The highest arrival number; 0 when empty.</summary>
    public long LastArrival() => Reading(() =>
    {
        using var reader = engine.Query(Entries, new Query { Limit = 1, OrderBy = "_id", Order = Query.Descending, Select = "$" });
        return reader.Read() ? reader.Current["_id"].AsInt64 : 0;
    });

    /// <summary>Rows with arrival numbers in a range, in order.</summary>
    public IReadOnlyList<(long Arrival, byte[] Bytes)> Between(long first, long last) => Reading(() =>
    {
        var query = new Query();

        // LiteDB compiles every text of an expression once and keeps it for ever: with the numbers in it, each call cost two milliseconds and memory.
        query.Where.Add(BsonExpression.Create("$._id BETWEEN @0 AND @1", first, last));
        var rows = new List<(long, byte[])>();
        using var reader = engine.Query(Entries, query);
        while (reader.Read())
        {
            rows.Add((reader.Current["_id"].AsInt64, reader.Current["bytes"].AsBinary));
        }

        return rows;
    });

    /// <summary>Inserts rows and their sealed texts in one durable transaction.</summary>
    public void Insert(IReadOnlyList<LedgerRow> rows)
    {
        lock (gate)
        {
            Guarded(() =>
            {
                engine.BeginTrans();
                engine.Insert(Entries, rows.Select(Document), BsonAutoId.Int64);
                var texts = rows.Where(r => r.Entry.Sealed.Count > 0).Select(r => Document(r.Entry.Hash, r.Entry.Sealed)).ToList();
                if (texts.Count > 0)
                {
                    engine.Upsert(SealedCollection, texts, BsonAutoId.ObjectId);
                }

                engine.Commit();
            });
        }
    }

    /// <summary>The sealed texts by entry hash; of an entry whose texts were erased, none.</summary>
    public IReadOnlyDictionary<string, SealedTexts> AllSealed() => Reading(() =>
    {
        var found = new Dictionary<string, SealedTexts>();
        using var reader = engine.Query(SealedCollection, new Query());
        while (reader.Read())
        {
            var document = reader.Current.AsDocument;
            found[document["_id"].AsString] = document["texts"].AsDocument.ToDictionary(
                t => t.Key, t => new SealedText(t.Value["salt"].AsString, t.Value["text"].AsString));
        }

        return found;
    });

    /// <summary>Puts sealed texts in for entries that lack them.</summary>
    public void InsertSealed(IEnumerable<KeyValuePair<string, SealedTexts>> texts)
    {
        lock (gate)
        {
            Guarded(() => engine.Upsert(SealedCollection, texts.Select(t => Document(t.Key, t.Value)), BsonAutoId.ObjectId));
        }
    }

    /// <summary>
    /// Removes sealed texts, by giving what is left of each entry, also from the log and from the pages that held them. That they were
    /// erased stays known, so that an older copy of the sealed file cannot bring them back.
    /// </summary>
    public void ReplaceSealed(IReadOnlyDictionary<string, SealedTexts> left)
    {
        lock (gate)
        {
            Guarded(() =>
            {
                engine.BeginTrans();
                engine.Delete(SealedCollection, left.Keys.Select(h => new BsonValue(h)));
                engine.Insert(SealedCollection, left.Select(texts => Document(texts.Key, texts.Value)), BsonAutoId.ObjectId);
                engine.Commit();
                log.Settle();
                engine.Checkpoint();
            });
        }
    }

    /// <summary>
    /// Starts from an empty log, before the first write: pages of a transaction that a power cut ended half-way would otherwise stay in
    /// it, and a later transaction of the same number would confirm them. Throws <see cref="LedgerDamageException"/> when the data
    /// file is then found to lack pages.
    /// </summary>
    public void SettleLog()
    {
        lock (gate)
        {
            Guarded(() =>
            {
                EmptyLog();

                // LiteDB leaves a log as it is in which no transaction was ever finished; nothing in it was acknowledged.
                var unfinished = log.Length > 0;
                if (unfinished)
                {
                    engine.Dispose();
                }

                // Also when it is empty: the sync of an earlier cut may have failed, and old pages would come back with the next power cut.
                log.SetLength(0);
                if (unfinished)
                {
                    engine = NewEngine();
                    EmptyLog();
                }

                // With the log empty every page ever written is in the data file; LiteDB would read a lost one as zeros.
                if (data.IsShort || data.FirstMisfit() is not null)
                {
                    throw new LedgerDamageException("pages of the data file are missing");
                }
            });
        }
    }

    /// <summary>Moves the log's pages into the data file when the log has grown to <see cref="CheckpointAt"/>, or always.</summary>
    public void Checkpoint(bool always)
    {
        lock (gate)
        {
            if (always ? log.Length > 0 : log.Length >= CheckpointAt)
            {
                Guarded(() => engine.Checkpoint());
            }
        }
    }

    /// <summary>From now on nothing is written.</summary>
    public void RefuseWrites()
    {
        data.RefuseWrites();
        log.RefuseWrites();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        lock (gate)
        {
            if (disposed)
            {
                return;
            }

            disposed = true;
            RefuseWrites();
            engine.Dispose();
            data.Dispose();
            log.Dispose();
        }
    }

    private LiteEngine NewEngine() => new(new EngineSettings
    {
        DataStream = data,
        LogStream = log,
        Collation = Collation.Binary,
        AutoRebuild = false,
    });

    private void EmptyLog()
    {
        if (engine.Pragma("CHECKPOINT").AsInt32 != 0)
        {
            engine.Pragma("CHECKPOINT", 0);
        }

        log.Settle();
        engine.Checkpoint();
    }

    /// <summary>LiteDB meets content it cannot make sense of with whatever exception its parsing runs into.</summary>
    private T Reading<T>(Func<T> read)
    {
        lock (gate)
        {
            try
            {
                return read();
            }
            catch (Exception cause) when (cause is not IOException and not ObjectDisposedException)
            {
                throw new LedgerDamageException($"LiteDB cannot read it ({cause.Message})", cause);
            }
        }
    }

    private void Guarded(Action write)
    {
        try
        {
            write();
            log.Settle();
        }
        catch (Exception cause)
        {
            RefuseWrites();
            if (cause is LedgerDamageException || (cause is IOException and not PageMisfitException))
            {
                throw;
            }

            throw new LedgerDamageException($"LiteDB cannot write it ({cause.Message})", cause);
        }
    }

    private static PageStream OpenPages(IDisk disk, string path, PageStream? before = null) =>
        new(disk.Open(path), new PageSums(disk.Open(StoreFiles.SumsOf(path))), Path.GetFileName(path), before);

    /// <summary>A power cut can tear only pages of the write in progress, the log's last: its transaction was never acknowledged.</summary>
    private static void CutTornTail(PageStream log)
    {
        if (log.FirstMisfit() is not { } page)
        {
            return;
        }

        if (!log.IsInLastWrite(page))
        {
            throw new LedgerDamageException($"page {page} of the log does not fit its checksum");
        }

        log.CutLastWrite();
    }

    private static BsonDocument Document(LedgerRow row) => new()
    {
        ["_id"] = row.Arrival,
        ["chain"] = row.Entry.Chain,
        ["sequence"] = row.Entry.Sequence,
        ["bytes"] = row.Entry.Bytes.ToArray(),
    };

    private static BsonDocument Document(string hash, SealedTexts texts)
    {
        var members = new BsonDocument();
        foreach (var (name, text) in texts)
        {
            members[name] = new BsonDocument { ["salt"] = text.Salt, ["text"] = text.Text };
        }

        return new BsonDocument { ["_id"] = hash, ["texts"] = members };
    }
}
