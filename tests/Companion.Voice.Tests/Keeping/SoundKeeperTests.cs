using System.Security.Cryptography;
using Companion.Domain.Time;
using Companion.Voice.Audio;
using Companion.Voice.Keeping;

namespace Companion.Voice.Tests.Keeping;

/// <summary>Recorded sound: off unless wanted, in step with the record's clock, and never in anybody's way.</summary>
public sealed class SoundKeeperTests
{
    private const int FramesOfAMinute = 1875;

    [Fact]
    public void Nothing_is_written_unless_a_job_wants_it()
    {
        using var bench = new KeeperBench();
        bench.Hear(100);
        bench.Keeper.Dispose();
        Assert.Empty(bench.Files);
        Assert.False(Directory.Exists(Path.Combine(bench.Store, "sound")));
        Assert.Empty(bench.Whole);
    }

    [Fact]
    public async Task The_parts_cover_the_job_without_a_gap_and_each_has_the_digest_that_it_is_told_with()
    {
        using var bench = new KeeperBench();
        bench.Keeper.Keep(KeeperBench.Job);
        bench.Hear(FramesOfAMinute + 500);
        bench.Keeper.Keep(null);
        await bench.WaitWhole(2);

        Assert.Equal(Ticks.OfSeconds(1), bench.Whole[0].Part.From);
        Assert.Equal(bench.Whole[0].Part.Until, bench.Whole[1].Part.From);
        Assert.Equal(bench.Clock.Now().Boot, bench.Whole[1].Part.Until);
        foreach (var (job, part) in bench.Whole)
        {
            var path = Path.Combine(bench.Store, "sound", job, part.File);
            Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(path))), part.Digest);
            Assert.Equal((part.Until - part.From).Nanoseconds * AudioFormat.SampleRate / Ticks.PerSecond, WavFile.Read(path).Length);
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(path));
            Assert.Equal((0, false), (part.Missing, part.Cut));
        }
    }

    // The task's bound: what is played must be within 50 ms of when it sounded.
    [Fact]
    public async Task Every_sound_stands_within_50_milliseconds_of_its_time_although_frames_come_late_and_some_are_missing()
    {
        using var bench = new KeeperBench();
        var chance = new Random(7);
        long[] clicks = [40_000, 300_000, 700_000];
        bench.Keeper.Keep(KeeperBench.Job);
        int Late(int frame) => frame % 7 == 0 ? chance.Next(120) : chance.Next(12);
        bool IsClick(long sample) => clicks.Any(click => sample >= click && sample < click + 400);
        bench.Hear(900, Late, IsClick);
        bench.Miss(90);
        bench.Hear(500, frame => frame == 0 ? 20 : Late(frame), IsClick);
        bench.Keeper.Keep(null);
        var part = await bench.WaitWhole(1);

        var sound = WavFile.Read(Path.Combine(bench.Store, "sound", KeeperBench.Job, part.File));
        var found = Enumerable.Range(1, sound.Length - 1).Where(n => sound[n] > 10_000 && sound[n - 1] <= 10_000).ToList();
        Assert.Equal(clicks.Length, found.Count);
        Assert.All(found.Zip(clicks), pair =>
        {
            var said = part.From.Nanoseconds + (pair.First * (Ticks.PerSecond / AudioFormat.SampleRate));
            Assert.InRange((said - bench.TrueTime(pair.Second).Nanoseconds) / 1_000_000, -50, 50);
        });
        Assert.InRange(part.Missing, 90 * 32, (90 * 32) + 50);
    }

    [Fact]
    public async Task A_break_longer_than_a_part_begins_another_and_stands_as_a_gap()
    {
        using var bench = new KeeperBench();
        bench.Keeper.Keep(KeeperBench.Job);
        bench.Hear(100);
        bench.Miss(2000);
        bench.Hear(100);
        bench.Keeper.Keep(null);
        await bench.WaitWhole(2);
        Assert.Equal(Ticks.OfMilliseconds(2000 * 32), bench.Whole[1].Part.From - bench.Whole[0].Part.Until);
    }

    [Fact]
    public async Task A_part_that_a_kill_cut_off_is_made_whole_and_told_after_the_next_start()
    {
        using var bench = new KeeperBench();
        var store = bench.Store;
        var folder = Directory.CreateDirectory(Path.Combine(store, "sound", KeeperBench.Job)).FullName;
        var sound = Enumerable.Repeat((short)1234, 8000).ToArray();
        var stem = Path.Combine(folder, "0000000005000000000_boot-0");
        WavFile.Write(stem + ".part", sound);
        using (var file = File.Open(stem + ".part", FileMode.Open))
        {
            // As a kill leaves it: the header of an empty file, and half a sample at the end.
            file.Write(WavFile.Header(0));
            file.Seek(0, SeekOrigin.End);
            file.WriteByte(1);
        }

        bench.Keeper.TakeUp(KeeperBench.Job, new HashSet<string>());
        var part = await bench.WaitWhole(1);
        Assert.Equal(("0000000005000000000_boot-0.wav", "boot-0", true), (part.File, part.Boot, part.Cut));
        Assert.Equal((Ticks.OfSeconds(5), Ticks.OfMilliseconds(5500)), (part.From, part.Until));
        Assert.Equal(sound, WavFile.Read(stem + ".wav"));
        Assert.False(File.Exists(stem + ".part"));

        bench.Keeper.TakeUp(KeeperBench.Job, new HashSet<string> { part.File });
        Assert.Single(bench.Whole);
    }

    [Fact]
    public void A_part_of_a_job_that_has_ended_is_made_whole_without_being_told()
    {
        using var bench = new KeeperBench();
        var folder = Directory.CreateDirectory(Path.Combine(bench.Store, "sound", "job-0")).FullName;
        WavFile.Write(Path.Combine(folder, "0000000005000000000_boot-0.part"), new short[100]);
        bench.Keeper.TakeUp(null, new HashSet<string>());
        Assert.Empty(bench.Whole);
        Assert.Equal([Path.Combine(folder, "0000000005000000000_boot-0.wav")], bench.Files);
    }

    [Fact]
    public async Task A_full_disk_stops_the_recording_with_one_notice_and_keeps_what_there_is()
    {
        var store = Directory.CreateTempSubdirectory("companion-sound").FullName;
        using var bench = new KeeperBench(new FullDisk(store, 200_000), store);
        bench.Keeper.Keep(KeeperBench.Job);
        bench.Hear(600);
        var notice = (await bench.Inbox.Wait<Companion.Engine.Ports.DeviceNotice>(1))[0];
        var part = await bench.WaitWhole(1);
        bench.Hear(400);
        bench.Keeper.Dispose();

        Assert.Single(bench.Inbox.Notices);
        Assert.Equal(("sound recording", false), (notice.Device, notice.Present));
        Assert.Contains("Everything else goes on", notice.Detail, StringComparison.Ordinal);
        Assert.Null(notice.Warning);
        Assert.True(part.Cut);
        Assert.InRange(WavFile.Read(Path.Combine(store, "sound", KeeperBench.Job, part.File)).Length, 98_000, 100_000);
    }

    [Fact]
    public async Task No_part_is_begun_when_what_room_is_left_belongs_to_the_journal()
    {
        var store = Directory.CreateTempSubdirectory("companion-sound").FullName;
        using var bench = new KeeperBench(new NarrowDisk(store), store);
        bench.Keeper.Keep(KeeperBench.Job);
        bench.Hear(100);
        Assert.Contains("too little room", (await bench.Inbox.Wait<Companion.Engine.Ports.DeviceNotice>(1))[0].Detail, StringComparison.Ordinal);
        bench.Keeper.Dispose();
        Assert.Empty(bench.Files);
    }

    [Fact]
    public async Task A_disk_that_hangs_holds_up_nobody_and_what_is_missing_is_counted()
    {
        var store = Directory.CreateTempSubdirectory("companion-sound").FullName;
        using var gate = new ManualResetEventSlim();
        using var bench = new KeeperBench(new SlowDisk(store, gate), store) { Patience = TimeSpan.Zero };
        bench.Keeper.Keep(KeeperBench.Job);
        bench.Hear(SoundKeeper.MostWaiting + 200);
        gate.Set();
        Assert.True(SpinWait.SpinUntil(() => bench.Keeper.Waiting == 0, TimeSpan.FromSeconds(10)));
        bench.Hear(10);
        bench.Keeper.Keep(null);
        var part = await bench.WaitWhole(1);
        Assert.Contains("are missing", (await bench.Inbox.Wait<Companion.Engine.Ports.DeviceNotice>(1))[0].Detail, StringComparison.Ordinal);
        Assert.InRange(part.Missing, 190 * 32, 200 * 32);
    }

    private sealed class FullDisk(string store, long room) : PartFiles(store)
    {
        public override long Room() => long.MaxValue;

        public override Stream Create(string path) => new FullFile((FileStream)base.Create(path), room);
    }

    private sealed class NarrowDisk(string store) : PartFiles(store)
    {
        public override long Room() => LeastRoom - 1;
    }

    private sealed class SlowDisk(string store, ManualResetEventSlim gate) : PartFiles(store)
    {
        public override long Room()
        {
            gate.Wait(TimeSpan.FromSeconds(10));
            return long.MaxValue;
        }
    }
}
