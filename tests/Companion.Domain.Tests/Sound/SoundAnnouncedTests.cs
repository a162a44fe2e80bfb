using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Reacting;
using Companion.Domain.Sound;
using Companion.Domain.Speaking;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Sound;

/// <summary>Whose sound is recorded is told so first; without an order of the operator nothing is different.</summary>
public sealed class SoundAnnouncedTests
{
    private const string Announcement = "Sound is recorded in this job, and kept for 14 days.";

    private static readonly SoundPolicy Order = new(14, "Petra Ash");

    private static readonly SoundRecorded Part = new("1_boot.wav", "boot", Ticks.OfSeconds(10), Ticks.OfSeconds(70), new string('a', 64), 0, false);

    private static IEnumerable<string> Said(JobBench bench, JobEvent happened) => React.To(bench.Job!, happened, bench.Time.Now).OfType<Say>().Select(say => say.Text);

    [Fact]
    public void Nothing_is_announced_or_recorded_unless_it_was_ordered()
    {
        var bench = new JobBench().Open().Prepare();
        Assert.Null(bench.Job!.Sound);
        Assert.False(bench.Job.RecordsSound);
        Assert.DoesNotContain(bench.Log, entry => entry.Event is SoundAnnounced);
        Assert.DoesNotContain(Announcement, Said(bench, new PersonChanged("31", PersonChange.Arrived)));
    }

    [Fact]
    public void It_is_announced_before_anything_is_asked_and_begins_only_after_the_sound_check()
    {
        var bench = new JobBench { Sound = Order }.Open();
        Assert.Equal(new SoundAnnounced(14, new Personal("Petra Ash")), bench.Log[1].Event);
        Assert.Equal([Announcement], Said(bench, bench.Log[1].Event));
        Assert.Equal(NeedKind.SoundCheck, bench.Job!.Question!.Need.Kind);
        Assert.False(bench.Job.RecordsSound);
        bench.AnswerRightly();
        Assert.True(bench.Job.RecordsSound);
        bench.Do(new CloseJob("false alarm"));
        Assert.False(bench.Job.RecordsSound);
    }

    [Theory]
    [InlineData(PersonChange.Arrived, true)]
    [InlineData(PersonChange.TookOver, true)]
    [InlineData(PersonChange.Left, false)]
    public void Whoever_joins_the_job_is_told_too(PersonChange change, bool told)
    {
        var bench = new JobBench { Sound = Order }.Open().Prepare();
        Assert.Equal(told, Said(bench, new PersonChanged("31", change)).Contains(Announcement));
    }

    [Fact]
    public void The_name_is_on_the_screen_until_it_is_erased() => Assert.Equal(
        ("Sound is recorded from the sound check on, kept 14 days, by order of Petra Ash.", "Sound is recorded, kept 1 day."),
        (SoundWording.OnScreen(Order, begun: false), SoundWording.OnScreen(new SoundPolicy(1, null), begun: true)));

    [Fact]
    public void The_last_part_is_recorded_although_the_job_has_ended_and_a_part_of_another_job_is_not()
    {
        var bench = new JobBench { Sound = Order }.Open();
        Assert.Contains(Part, bench.Do(new KeepSound("job-1", Part)).Events);
        bench.Do(new CloseJob("false alarm"));
        Assert.Equal(Part, Assert.Single(bench.Do(new KeepSound("job-1", Part)).Events));
        Assert.Empty(bench.Do(new KeepSound("job-2", Part)).Events);
        Assert.True(bench.Job!.Ended);
    }

    [Theory]
    [InlineData("job-20261126-184500-1a2b", true)]
    [InlineData("00000001_3f2a-b.wav", true)]
    [InlineData("..", false)]
    [InlineData("a/b", false)]
    [InlineData("", false)]
    public void No_name_leads_out_of_the_folder(string name, bool isPlain) => Assert.Equal(isPlain, SoundFolder.IsPlainName(name));
}
