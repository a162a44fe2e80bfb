using Companion.Checker.Tests.Support;
using Companion.Domain.Asking;
using Companion.TestKit;

namespace Companion.Checker.Tests;

/// <summary>What the real engine records over a real store is accepted, whatever happens on the way.</summary>
public sealed class HonestJobTests
{
    private const int Seeds = 12;

    [Fact]
    public async Task A_job_without_trouble_is_accepted_with_its_sealed_texts() => await Checked.AssertSoundAsync(await HonestJobs.Plain);

    [Fact]
    public async Task A_job_of_several_people_that_is_put_back_is_accepted() => await Checked.AssertSoundAsync(await HonestJobs.ManyPeople);

    [Fact]
    public async Task An_export_that_was_only_taken_apart_and_signed_anew_is_accepted() =>
        await Checked.AssertSoundAsync(Forgery.Of(await HonestJobs.Plain).Write());

    // I2
    [Fact]
    public async Task A_sleep_in_mid_wait_that_was_answered_for_is_accepted() => await Checked.AssertSoundAsync(await HonestJobs.Slept);

    // I2
    [Fact]
    public async Task A_restart_in_mid_wait_and_one_after_a_proof_are_accepted() => await Checked.AssertSoundAsync(await HonestJobs.PlayAsync(async job =>
    {
        await job.UntilAsync(NeedKind.WaitOver);
        await job.PassAsync(5);
        await job.RebootAsync();
        await job.UntilAsync(NeedKind.CoverLiveSide);
        await job.RebootAsync();
        await job.UntilAsync(NeedKind.Working);
        await job.SleepAsync(60);
    }));

    // I2
    [Fact]
    public async Task A_gap_in_which_something_was_touched_is_accepted() => await Checked.AssertSoundAsync(await HonestJobs.PlayAsync(async job =>
    {
        await job.UntilAsync(NeedKind.TakeReading);
        await job.SleepAsync(60);
        await job.SayAsync(Phrase.CannotDo);
    }));

    // I2
    [Fact]
    public async Task A_wall_clock_that_is_put_forward_and_back_is_accepted() => await Checked.AssertSoundAsync(await HonestJobs.PlayAsync(async job =>
    {
        await job.UntilAsync(NeedKind.WaitOver);
        job.StepWall(TimeSpan.FromMinutes(20));
        await job.PassAsync(5);
        job.StepWall(TimeSpan.FromMinutes(-50));
        await job.PassAsync(5);
    }));

    // I5
    [Theory]
    [InlineData(Phrase.ChargerConnected)]
    [InlineData(Phrase.KeyOn)]
    [InlineData(Phrase.Stop)]
    public async Task A_disturbance_before_and_after_a_proof_is_accepted(Phrase phrase) =>
        await Checked.AssertSoundAsync(await HonestJobs.PlayAsync(async job =>
        {
            await job.UntilAsync(NeedKind.TakeReading, 2);
            await job.SayAsync(phrase);
            await job.UntilAsync(NeedKind.ClaimClear);
            await job.SayAsync(phrase);
            await job.UntilAsync(NeedKind.Working);
            await job.SayAsync(phrase);
        }));

    // I3
    [Theory]
    [InlineData("61")]
    [InlineData("20")]
    [InlineData("0")]
    public async Task A_reading_that_is_live_or_does_not_fit_or_is_nothing_is_accepted_when_it_was_dealt_with(string volts) =>
        await Checked.AssertSoundAsync(await HonestJobs.PlayAsync(async job =>
        {
            await job.UntilAsync(NeedKind.TakeReading);
            await job.ReadAsync(volts);
        }));

    // I22
    [Fact]
    public async Task The_sheets_other_way_is_accepted() => await Checked.AssertSoundAsync(await HonestJobs.PlayAsync(async job =>
    {
        await job.UntilAsync(NeedKind.OpenPoint, 2);
        await job.SayAsync(Phrase.CannotDo);
    }));

    // I15
    [Fact]
    public async Task Clear_to_work_that_lapsed_when_the_next_test_was_due_is_accepted() =>
        await Checked.AssertSoundAsync(await HonestJobs.PlayAsync(async job =>
        {
            await job.UntilAsync(NeedKind.Working);
            await job.PassAsync(31 * 60);
        }));

    // I1, I2, I3, I5, I6, I15
    [Fact]
    public async Task Jobs_in_which_anything_happens_are_accepted()
    {
        var folder = Directory.CreateTempSubdirectory("companion-checker-").FullName;
        var files = new List<string>();
        for (var seed = 1; seed <= Seeds; seed++)
        {
            files.Add(Path.Combine(folder, $"seed-{seed}.ndjson"));
            await File.WriteAllTextAsync(files[^1], await EventfulJobs.PlayAsync(seed));
        }

        var report = await IndependentChecker.CheckAsync([.. files]);

        Assert.True(report.Exit == 0, report.ToString());
        Directory.Delete(folder, recursive: true);
    }
}
