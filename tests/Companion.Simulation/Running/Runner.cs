using Companion.Simulation.Watched;
using Companion.Simulation.Worlds;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Running;

/// <summary>Lives worlds.</summary>
internal static class Runner
{
    /// <summary>Lives one world.</summary>
    public static Outcome Live(IPlan plan, Tally tally) => Live(plan, tally, plan.Live);

    /// <summary>Lives the worlds of consecutive seeds on all cores; outcomes in order of seed, up to the first violation if that is enough.</summary>
    public static IReadOnlyList<Outcome> LiveMany(
        int seed, int runs, int mostSteps, Tally total, Action<Plan, World>? afterwards = null, bool firstIsEnough = false) =>
        LiveMany(runs, total, firstIsEnough, (run, tally) =>
        {
            var plan = Plan.Of(seed + run, mostSteps);
            return Live(plan, tally, counted =>
            {
                var world = new World(plan);
                var head = world.Live(counted);
                afterwards?.Invoke(plan, world);
                return head;
            });
        });

    /// <summary>The same for worlds of several tablets and their watch room.</summary>
    public static IReadOnlyList<Outcome> LiveManyWatched(int seed, int runs, int mostSteps, Tally total, bool firstIsEnough = false)
    {
        // A watch room's loop and its journal have threads of their own, for which the world's thread waits.
        ThreadPool.SetMinThreads(ThreadsAWorld * Environment.ProcessorCount, ThreadsAWorld);
        return LiveMany(runs, total, firstIsEnough, (run, tally) => Live(WatchedPlan.Of(seed + run, mostSteps), tally));
    }

    private const int ThreadsAWorld = 8;

    private static Outcome[] LiveMany(int runs, Tally total, bool firstIsEnough, Func<int, Tally, Outcome> live)
    {
        var outcomes = new Outcome[runs];
        var cores = new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount };
        Parallel.For(0, runs, cores, () => new Tally(), (run, loop, tally) =>
        {
            outcomes[run] = live(run, tally);
            if (firstIsEnough && outcomes[run].Violation is not null)
            {
                loop.Stop();
            }

            return tally;
        },
        tally =>
        {
            lock (total)
            {
                total.Add(tally);
            }
        });
        return [.. outcomes.Where(outcome => outcome is not null)];
    }

    private static Outcome Live(IPlan plan, Tally tally, Func<Tally, string> live)
    {
        tally.Worlds++;
        tally.Step = 0;
        try
        {
            return new Outcome(plan, live(tally), null, tally.Step);
        }
        catch (InvariantBrokenException broken)
        {
            return new Outcome(plan, string.Empty, broken.Message, tally.Step);
        }
        catch (Exception fault)
        {
            return new Outcome(plan, string.Empty, $"a fault of the program: {fault}", tally.Step);
        }
        finally
        {
            tally.Steps += tally.Step + 1;
        }
    }
}
