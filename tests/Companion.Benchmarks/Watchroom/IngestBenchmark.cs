using System.Diagnostics;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Proof;
using Companion.TestKit;
using Companion.Watchroom.Receiving;

namespace Companion.Benchmarks.Watchroom;

/// <summary>
/// How fast journals are taken: by the watch room's process over HTTPS, signed, batch by batch, and by its receiver alone. Two floors in the same run,
/// turn by turn with it: the same bytes appended to a plain file and synced, and the same requests to Kestrel alone under the same certificate.
/// </summary>
internal static class IngestBenchmark
{
    private const int DefaultEntries = 20_000;
    private const int Tablets = 4;
    private const int FullBatch = 200;
    private const int LiveBatch = 5;
    private const int LiveBatches = 100;
    private const int WarmUp = 10;

    /// <summary>Runs; the number is that of entries. A watch room takes at most 1,200 batches a minute from one address: up to 100,000 entries fit.</summary>
    public static async Task<object> RunAsync(int[] numbers)
    {
        var entries = numbers.FirstOrDefault(DefaultEntries);
        var folder = Directory.CreateTempSubdirectory("companion-bench-ingest-");
        try
        {
            using var room = WatchroomProgram.In(Path.Combine(folder.FullName, "watchroom"));
            await room.StartAsync();
            using var plain = await PlainServer.StartAsync(Path.Combine(room.Store, "certificate.pem"));
            return new
            {
                fullbatches = await OneByOneAsync(folder.FullName, "full", room, plain, FullBatch, entries),
                livebatches = await OneByOneAsync(folder.FullName, "live", room, plain, LiveBatch, LiveBatches * LiveBatch),
                together = await TogetherAsync(folder.FullName, room, plain, entries),
            };
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<object> OneByOneAsync(string folder, string name, WatchroomProcess room, PlainServer plain, int batch, int entries)
    {
        var (tablet, bodies) = await BodiesAsync(Path.Combine(folder, $"{name}-store"), batch, entries + (WarmUp * batch));
        using var sender = await SigningTablet.PairAsync(room, Path.Combine(folder, name), tablet);
        using var receiver = JournalReceiver.Open(Path.Combine(folder, $"{name}-received"));
        using var floor = new LocalDisk().Open(Path.Combine(folder, $"{name}-floor"));
        Times taken = new(), kestrel = new(), alone = new(), raw = new();
        var offset = 0L;
        foreach (var (body, turn) in bodies.Select((body, turn) => (body, turn - WarmUp)))
        {
            var (byRoom, byKestrel) = (await sender.PostAsync(room.Address, UplinkFormat.BatchPath, body), await sender.PostAsync(plain.Address, UplinkFormat.BatchPath, body));
            var start = Stopwatch.GetTimestamp();
            var receipt = await receiver.TakeAsync("van-1", tablet, body);
            var byReceiver = Stopwatch.GetElapsedTime(start);
            start = Stopwatch.GetTimestamp();
            floor.Write(offset, body);
            floor.Sync();
            var byDisk = Stopwatch.GetElapsedTime(start);
            offset += body.Length;
            if (receipt.Outcome != ReceiptOutcome.Taken)
            {
                throw new InvalidOperationException(receipt.Reason);
            }

            if (turn >= 0)
            {
                taken.Add(byRoom);
                kestrel.Add(byKestrel);
                alone.Add(byReceiver);
                raw.Add(byDisk);
            }
        }

        return new
        {
            entries,
            batch,
            bytesabatch = offset / bodies.Count,
            watchroom = Figures(taken, batch),
            kestrelalone = Figures(kestrel, batch),
            receiveralone = Figures(alone, batch),
            rawappendfsync = Figures(raw, batch),
            ratio50tokestrel = taken.Ratio(kestrel, 50),
            ratio50tofsync = taken.Ratio(raw, 50),
            ratio50tobothfloors = Math.Round(taken.Percentile(50) / (kestrel.Percentile(50) + raw.Percentile(50)), 2),
            ratio50receivertofsync = alone.Ratio(raw, 50),
        };
    }

    /// <summary>Several tablets at once, each over its own connection; then the same requests to Kestrel alone.</summary>
    private static async Task<object> TogetherAsync(string folder, WatchroomProcess room, PlainServer plain, int entries)
    {
        var senders = new List<(SigningTablet Tablet, List<byte[]> Bodies)>();
        foreach (var number in Enumerable.Range(0, Tablets))
        {
            var (tablet, bodies) = await BodiesAsync(Path.Combine(folder, $"store-{number}"), FullBatch, entries / Tablets);
            senders.Add((await SigningTablet.PairAsync(room, Path.Combine(folder, $"tablet-{number}"), tablet), bodies));
        }

        var taken = await AllAsync(senders, room.Address);
        var kestrel = await AllAsync(senders, plain.Address);
        senders.ForEach(sender => sender.Tablet.Dispose());
        var sent = entries / Tablets * Tablets;
        return new
        {
            tablets = Tablets,
            entries = sent,
            eventspersecond = Math.Round(sent / taken.TotalSeconds),
            kestrelaloneeventspersecond = Math.Round(sent / kestrel.TotalSeconds),
            ratio = Math.Round(taken / kestrel, 2),
        };
    }

    private static async Task<TimeSpan> AllAsync(List<(SigningTablet Tablet, List<byte[]> Bodies)> senders, Uri server)
    {
        var since = Stopwatch.GetTimestamp();
        await Task.WhenAll(senders.Select(async sender =>
        {
            foreach (var body in sender.Bodies)
            {
                await sender.Tablet.PostAsync(server, UplinkFormat.BatchPath, body);
            }
        }));
        return Stopwatch.GetElapsedTime(since);
    }

    private static object Figures(Times times, int batch) => new { request = times.Summary(), eventspersecond = Math.Round(batch * 1_000_000 / times.Mean) };

    private static async Task<(Guid Tablet, List<byte[]> Bodies)> BodiesAsync(string folder, int batch, int entries)
    {
        await using var store = await JournalStore.OpenAsync(folder, new StoreOptions(new SteadyClock()) { Kind = StoreKind.Real });
        foreach (var some in Enumerable.Range(0, entries).Chunk(1000))
        {
            await store.AppendAsync([.. some.Select(SteadyClock.Draft)]);
        }

        return (store.TabletId, [.. store.Read(SteadyClock.Job).Chunk(batch).Select(BodyOf)]);
    }

    private static byte[] BodyOf(JournalEntry[] entries)
    {
        var body = new MemoryStream();
        foreach (var entry in entries)
        {
            body.Write(ExportLine.Of(entry).Span);
            body.WriteByte((byte)'\n');
        }

        return body.ToArray();
    }
}
