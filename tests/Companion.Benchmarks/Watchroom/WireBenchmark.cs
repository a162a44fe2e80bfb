using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Domain.Asking;
using Companion.Journal;
using Companion.Journal.Proof;
using Companion.TestKit;
using Companion.Uplink;

namespace Companion.Benchmarks.Watchroom;

/// <summary>
/// What a watched job costs on the wire: a whole demo job from opening to handing over, and an hour in which nothing happens, sent by the real uplink to
/// the watch room's process. Only the pace is not real: the job's seconds pass as fast as they are sent; what one second recorded travels together, as the
/// uplink gathers it, and a beat goes every five seconds. The peer is the size of the same job's exports.
/// </summary>
internal static class WireBenchmark
{
    private const int BeatSeconds = 5;
    private const int HourSeconds = 3600;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    /// <summary>Runs; the number is that of idle seconds, an hour if there is none.</summary>
    public static async Task<object> RunAsync(int[] numbers)
    {
        var folder = Directory.CreateTempSubdirectory("companion-bench-wire-");
        try
        {
            using var room = WatchroomProgram.In(Path.Combine(folder.FullName, "watchroom"));
            await room.StartAsync();
            using var tap = WireTap.Start(Path.Combine(room.Store, "certificate.pem"), room.Address);
            return new
            {
                job = await JobAsync(room, tap, folder.FullName),
                idle = await IdleAsync(room, tap, folder.FullName, numbers.FirstOrDefault(HourSeconds)),
            };
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<object> JobAsync(WatchroomProcess room, WireTap tap, string folder)
    {
        await using var store = await JournalStore.OpenAsync(Path.Combine(folder, "store"), new StoreOptions(new SteadyClock()) { Kind = StoreKind.Real });
        var job = await DemoJob.OpenAsync(store, "job-1");
        await using var link = await Link.StartAsync(room, tap, job, store.TabletId, Path.Combine(folder, "uplink"));
        var before = link.Count;
        await job.LiveAsync(_ => false);
        await link.SentAsync();
        var (batches, beats) = link.Since(before);
        var entries = store.Read("job-1").Count;
        var (export, withTexts) = (ExportBytes(Path.Combine(folder, "store"), "job-1", texts: false), ExportBytes(Path.Combine(folder, "store"), "job-1", texts: true));
        return new
        {
            seconds = job.Seconds,
            ended = job.Bench.Job!.Ended,
            entries,
            batches = Figures(batches),
            beats = Figures(beats),
            requestbytesanentry = (batches.Headers + batches.Bodies) / entries,
            peerexportbytes = export,
            peerexportwithtextsbytes = withTexts,
            ratiobatchestoexportwithtexts = Ratio(batches.Headers + batches.Bodies, withTexts),
            ratioallonwiretoexportwithtexts = Ratio(batches.Encrypted + beats.Encrypted, withTexts),
        };
    }

    private static async Task<object> IdleAsync(WatchroomProcess room, WireTap tap, string folder, int seconds)
    {
        await using var store = await JournalStore.OpenAsync(Path.Combine(folder, "idle"), new StoreOptions(new SteadyClock()) { Kind = StoreKind.Real });
        var job = await DemoJob.OpenAsync(store, "job-2");
        await job.LiveAsync(now => now.Bench.Job!.Question!.Need.Kind == NeedKind.Working);
        await using var link = await Link.StartAsync(room, tap, job, store.TabletId, Path.Combine(folder, "idle-uplink"));
        await link.SentAsync();
        var (before, entries) = (link.Count, store.Read("job-2").Count);
        await job.IdleAsync(seconds);
        await link.SentAsync();
        var (batches, beats) = link.Since(before);
        return new
        {
            seconds,
            entries = store.Read("job-2").Count - entries,
            batches = Figures(batches),
            beats = Figures(beats),
            kilobytesanhouronwire = (batches.Encrypted + beats.Encrypted) * HourSeconds / seconds / 1000,
        };
    }

    private static object Figures(WireCount count) => new
    {
        requests = count.Requests,
        headerbytes = count.Headers,
        bodybytes = count.Bodies,
        answerbytes = count.Answers,
        tlsbytes = count.Encrypted,
        bytesarequest = count.Requests == 0 ? 0 : (count.Headers + count.Bodies) / count.Requests,
    };

    private static double Ratio(long bytes, long peer) => Math.Round((double)bytes / peer, 2);

    private static long ExportBytes(string store, string chain, bool texts)
    {
        using var export = new MemoryStream();
        JournalExport.Write(store, export, chain, texts);
        return export.Length;
    }

    /// <summary>The real uplink of a job, through the tap; its pace is the job's.</summary>
    private sealed class Link : IAsyncDisposable
    {
        private readonly WireTap tap;
        private readonly DemoJob job;
        private readonly WatchroomUplink uplink;
        private readonly SemaphoreSlim answered = new(0);
        private readonly Dictionary<string, (long Last, long Bytes)> owed = [];

        private Link(WireTap tap, DemoJob job, UplinkParts parts)
        {
            (this.tap, this.job) = (tap, job);
            uplink = WatchroomUplink.Start(parts);
            uplink.Answered += _ => answered.Release();
            job.Second = SecondAsync;
        }

        public (WireCount Batches, WireCount Beats) Count => (tap.On(UplinkFormat.BatchPath), tap.On(UplinkFormat.BeatPath));

        public static async Task<Link> StartAsync(WatchroomProcess room, WireTap tap, DemoJob job, Guid tablet, string folder)
        {
            var parts = new UplinkParts(
                folder, job, () => JobBeat.Of(job.Bench.Engine.Snapshot, job.Bench.Clock.Now(), false, id => id == "crew-4" ? "Ines" : id), TimeProvider.System, () => 0)
            {
                BeatEvery = TimeSpan.FromDays(1),
                Gather = TimeSpan.Zero,
            };
            if (await Pairing.PairAsync(parts, room.Address, room.Fingerprint, await room.PairCodeAsync(), tablet, Path.GetFileName(folder)) is { } fault)
            {
                throw new InvalidOperationException(fault);
            }

            // Only what comes after the pairing is measured.
            (PairedWatchroom.Read(parts.WatchroomFile)! with { Address = tap.Address }).Write(parts.WatchroomFile);
            return new Link(tap, job, parts);
        }

        public (WireCount Batches, WireCount Beats) Since((WireCount Batches, WireCount Beats) before) => (Count.Batches - before.Batches, Count.Beats - before.Beats);

        /// <summary>Until every entry of every chain has been acknowledged.</summary>
        public async Task SentAsync()
        {
            var since = TimeProvider.System.GetTimestamp();
            uplink.EntriesAdded();
            while (job.Chains().Any(chain => uplink.State.BytesByChain.GetValueOrDefault(chain) < Owed(chain)))
            {
                await Task.Delay(1);
                if (TimeProvider.System.GetElapsedTime(since) > Patience)
                {
                    throw new TimeoutException(uplink.State.OutboxTrouble);
                }
            }
        }

        public ValueTask DisposeAsync() => uplink.DisposeAsync();

        /// <summary>The bytes of a chain's lines with their newlines; each line is read once.</summary>
        private long Owed(string chain)
        {
            var (last, bytes) = owed.GetValueOrDefault(chain);
            foreach (var line in job.Read(chain, last + 1))
            {
                (last, bytes) = (line.Sequence, bytes + line.Line.Length + 1);
            }

            owed[chain] = (last, bytes);
            return bytes;
        }

        private async Task SecondAsync(long second, bool recorded)
        {
            if (recorded)
            {
                await SentAsync();
            }

            if (second % BeatSeconds == 0)
            {
                while (await answered.WaitAsync(TimeSpan.Zero))
                {
                    // The answer to the beat that a start sends.
                }

                uplink.Nudge();
                if (!await answered.WaitAsync(Patience))
                {
                    throw new TimeoutException(uplink.State.BeatTrouble);
                }
            }
        }
    }
}
