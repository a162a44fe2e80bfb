using Companion.Simulation.Worlds;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Running;

/// <summary>Lives worlds.</summary>
internal static class Runner
{
    /// <summary>Lives one world.</summary>
    public static Outcome Live(Plan plan, Tally tally, Action<World>? afterwards = null)
    {
        tally.Worlds++;
        tally.Step = 0;
        try
        {
            var world = new World(plan);
            var head = world.Live(tally);
            afterwards?.Invoke(world);
            return new Outcome(plan, head, null, tally.Step);
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

    /// <summary>Lives the worlds of consecutive seeds on all cores; outcomes in order of seed, up to the first violation if that is enough.</summary>
    public static IReadOnlyList<Outcome> LiveMany(
        int seed, int runs, int mostSteps, Tally total, Action<Plan, World>? afterwards = null, bool firstIsEnough = false)
    {
        var outcomes = new Outcome[runs];
        var cores = new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount };
        Parallel.For(0, runs, cores, () => new Tally(), (run, loop, tally) =>
        {
            var plan = Plan.Of(seed + run, mostSteps);
            outcomes[run] = Live(plan, tally, world => afterwards?.Invoke(plan, world));
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
}
