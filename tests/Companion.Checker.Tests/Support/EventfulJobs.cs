using Companion.Domain.Asking;

namespace Companion.Checker.Tests.Support;

/// <summary>Jobs in which anything happens, from a seed: still recorded by the real engine, so still honest.</summary>
public static class EventfulJobs
{
    private const int MostTurns = 400;

    private static readonly string[] Readings = ["0", "3", "20", "61", "900"];

    private static readonly Phrase[] OutOfPlace =
    [
        Phrase.ProvedDead, Phrase.ClearToWork, Phrase.Wrong, Phrase.CannotDo, Phrase.CannotReach, Phrase.Stop, Phrase.KeyOn,
        Phrase.ChargerConnected, Phrase.PlugRefitted, Phrase.HelpMe, Phrase.HowLong,
    ];

    /// <summary>Plays a job and exports it.</summary>
    public static async Task<string> PlayAsync(int seed)
    {
        var chance = new Random(seed);
        await using var job = await StoreJob.OpenAsync();
        for (var turn = 0; turn < MostTurns && !job.Job.Ended; turn++)
        {
            await HappenAsync(job, chance);
        }

        return job.Export();
    }

    private static Task HappenAsync(StoreJob job, Random chance)
    {
        switch (chance.Next(200))
        {
            case < 4:
                return job.SleepAsync(chance.Next(1, 200));
            case < 5:
                return job.RebootAsync();
            case < 9:
                job.StepWall(TimeSpan.FromSeconds(chance.Next(-4000, 4000)));
                return job.PassAsync(1);
            case < 12:
                return job.ReadAsync(Readings[chance.Next(Readings.Length)]);
            case < 20:
                return job.SayAsync(OutOfPlace[chance.Next(OutOfPlace.Length)]);
            case < 30:
                return job.PassAsync(chance.Next(1, 12));
            default:
                return job.Job.Question!.Need.Kind == NeedKind.WaitOver ? job.PassAsync(chance.Next(1, 12)) : job.AnswerRightlyAsync();
        }
    }
}
