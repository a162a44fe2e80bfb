using Companion.Domain.Asking;

namespace Companion.Checker.Tests.Support;

/// <summary>Exports of honest jobs, each played once for all tests. Every one comes to clear to work and ends in a hand-over.</summary>
public static class HonestJobs
{
    private static readonly Lazy<Task<string>> PlainJob = new(() => PlayAsync(_ => Task.CompletedTask, includeSealed: true));

    private static readonly Lazy<Task<string>> SleptJob = new(() => PlayAsync(async job =>
    {
        await job.UntilAsync(NeedKind.WaitOver);
        await job.PassAsync(5);
        await job.SleepAsync(100);
    }));

    private static readonly Lazy<Task<string>> ManyPeoplesJob = new(() => PlayAsync(async job =>
    {
        await job.UntilAsync(NeedKind.Working);
        await job.ClaimAsync(Phrase.PersonJoins, "12");
        await job.UntilAsync(NeedKind.Working);
        await job.ClaimAsync(Phrase.PersonTakesOver, "13");
        await job.UntilAsync(NeedKind.Working);
        await job.SayAsync(Phrase.TakingBreak);
        await job.UntilAsync(NeedKind.Working);
        await job.ClaimAsync(Phrase.WorkDone);
    }));

    /// <summary>Somebody joins, another takes over, a break is taken, and the vehicle is put back.</summary>
    public static Task<string> ManyPeople => ManyPeoplesJob.Value;

    /// <summary>Nothing out of the ordinary.</summary>
    public static Task<string> Plain => PlainJob.Value;

    /// <summary>The tablet sleeps for 100 s, five seconds into the first wait of 20 s.</summary>
    public static Task<string> Slept => SleptJob.Value;

    /// <summary>Plays a job: what happens on the way, then everything right to the end.</summary>
    public static async Task<string> PlayAsync(Func<StoreJob, Task> happening, bool includeSealed = false)
    {
        await using var job = await StoreJob.OpenAsync();
        await happening(job);
        await job.FinishAsync();
        return job.Export(includeSealed);
    }
}
