using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Sound;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.Domain.Events;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;
using Companion.Voice.Keeping;

namespace Companion.Tablet.Tests;

/// <summary>Recorded sound between the loop and the disk: never without an order, and proved by the job's own chain.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class SoundRecordingTests : IDisposable
{
    private readonly string _store = MemoryFolder.New("companion-sound-");

    public void Dispose() => Directory.Delete(_store, recursive: true);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Sound_is_kept_only_when_it_was_ordered_and_its_digests_stand_in_the_chain(bool ordered)
    {
        var bench = new EngineBench { Sound = ordered ? new SoundPolicy(14, "Petra Ash") : null };
        await bench.OpenAsync();
        using var keeper = new SoundKeeper(new PartFiles(_store), bench.Clock, bench.Engine);
        using var recording = SoundRecording.Start(keeper, bench.Engine, bench.Journal);
        Hear(keeper, bench, 20);
        await ConfirmSoundCheckAsync(bench);
        Hear(keeper, bench, 40);
        await bench.DoAsync(new CloseJob("false alarm"));
        Hear(keeper, bench, 20);
        await SettleAsync(bench, ordered);

        var parts = bench.Journal.Read("job-1").Select(EventCodec.Read).OfType<SoundRecorded>().ToList();
        Assert.Equal(ordered ? 1 : 0, parts.Count);
        Assert.Equal(ordered, Directory.Exists(SoundFolder.Of(_store)));
        Assert.Equal(ordered ? "sound.recorded" : "job.closed", bench.Journal.Read("job-1")[^1].Type);
        if (ordered)
        {
            // From the sound check to the end of the job, and nothing outside of it.
            Assert.Equal(Ticks.OfMilliseconds(40 * 32), parts[0].Until - parts[0].From);
            Assert.True(File.Exists(Path.Combine(SoundFolder.Of(_store, "job-1"), parts[0].File)));
            Assert.Contains(bench.Speaker.All, prompt => prompt.Text == "Sound is recorded in this job, and kept for 14 days.");
        }
    }

    [Fact]
    public async Task A_part_that_a_kill_left_behind_comes_into_the_chain_of_the_job_that_is_still_open()
    {
        var before = new EngineBench { Sound = new SoundPolicy(14, "Petra Ash") };
        await before.OpenAsync();
        var folder = Directory.CreateDirectory(SoundFolder.Of(_store, "job-1")).FullName;
        await File.WriteAllBytesAsync(Path.Combine(folder, "0000000005000000000_boot-0.part"), new byte[44 + 3200]);

        var after = await new EngineBench(before.Journal, before.Clock).StartAsync();
        using var keeper = new SoundKeeper(new PartFiles(_store), after.Clock, after.Engine);
        using var recording = SoundRecording.Start(keeper, after.Engine, after.Journal);
        await after.Engine.DrainAsync();
        var part = Assert.Single(after.Journal.Read("job-1").Select(EventCodec.Read).OfType<SoundRecorded>());
        Assert.Equal(("0000000005000000000_boot-0.wav", true, Ticks.OfMilliseconds(5100)), (part.File, part.Cut, part.Until));
    }

    private static async Task ConfirmSoundCheckAsync(EngineBench bench)
    {
        Assert.Equal(NeedKind.SoundCheck, bench.Job!.Question!.Need.Kind);
        await bench.AnswerRightlyAsync();
        Assert.True(bench.Job!.SoundChecked);
    }

    private static void Hear(SoundKeeper keeper, EngineBench bench, int frames)
    {
        for (var frame = 0; frame < frames; frame++)
        {
            bench.Clock.Move(time => time.Pass(Ticks.OfMilliseconds(32)));
            keeper.Take(new float[512], bench.Clock.Now());
        }
    }

    /// <summary>The keeper works on a thread of its own.</summary>
    private static async Task SettleAsync(EngineBench bench, bool ordered)
    {
        for (var n = 0; n < (ordered ? 500 : 30) && (!ordered || bench.Journal.Read("job-1")[^1].Type != "sound.recorded"); n++)
        {
            await Task.Delay(20);
            await bench.Engine.DrainAsync();
        }
    }
}
