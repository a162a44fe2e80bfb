using Companion.TestKit;
using Companion.Watchroom;
using Companion.Watchroom.Tests.Together;

namespace Companion.Benchmarks.Watchroom;

/// <summary>
/// The watch room's process killed at random moments while tablets send to it, and what became of its alerts. The peer is the same program started
/// over an empty store.
/// </summary>
internal static class KillBenchmark
{
    private const int DefaultKills = 500;
    private const int TellEvery = 25;
    private const int PeerStarts = 10;
    private const int Chance = 11;

    /// <summary>Runs; the number is how often it is killed. About three seconds each.</summary>
    public static async Task<object> RunAsync(int[] numbers)
    {
        var folder = Directory.CreateTempSubdirectory("companion-bench-kills-");
        try
        {
            var empty = await WatchroomProgram.EmptyStartsAsync(folder.FullName, PeerStarts);
            using var room = WatchroomProgram.In(Path.Combine(folder.FullName, "watchroom"));
            var counts = await new KillRun(room, folder.FullName, new Random(Chance)).RunAsync(numbers.FirstOrDefault(DefaultKills), kill =>
            {
                if (kill % TellEvery == 0)
                {
                    Console.Error.WriteLine($"{kill} kills");
                }
            });
            var starts = Times.Of(counts.Starts);
            return new
            {
                kills = counts.Kills,
                seed = Chance,
                owed = counts.Owed,
                recorded = counts.Recorded,
                lost = counts.Lost,
                doubled = counts.Doubled,
                late = counts.Late,
                blindperiods = counts.Blind,
                samecertificate = counts.SameCertificate,
                lateness = Times.Of(counts.Lateness).Milliseconds(),
                start = starts.Milliseconds(),
                peeremptystart = empty.Milliseconds(),
                startratio50 = starts.Ratio(empty, 50),
            };
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
