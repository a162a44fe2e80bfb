using Companion.Simulation.Defects;
using Companion.Simulation.Running;
using Companion.Simulation.Watched;
using Companion.Simulation.Worlds;

namespace Companion.Simulation.Tests;

/// <summary>Tablets, their watch room and a bad network between: I10, I11, and what is held there is a prefix of what was recorded here.</summary>
public sealed class WatchedWorldTests
{
    private const int Runs = 30;
    private const int Steps = 40;

    [Fact]
    public void Thirty_watched_worlds_keep_every_rule_and_see_every_kind_of_mishap()
    {
        var tally = new Tally();
        var outcomes = Runner.LiveManyWatched(1, Runs, Steps, tally);
        Assert.All(outcomes, outcome => Assert.True(outcome.Violation is null, $"{outcome.Plan}: {outcome.Violation}"));
        Assert.Equal(Mishaps.Kinds.Concat(Link.Troubles).Order(StringComparer.Ordinal), tally.Faults.Keys);
        Assert.True(tally.Alerts >= Runs, $"only {tally.Alerts} alerts in {Runs} worlds");
    }

    // I13, on both sides of the link.
    [Fact]
    public void The_same_line_gives_the_same_hash_twice()
    {
        foreach (var seed in Enumerable.Range(7000, 3))
        {
            var plan = WatchedPlan.Of(seed, Steps);
            var (once, twice) = (Runner.Live(plan, new Tally()), Runner.Live(plan, new Tally()));
            Assert.Equal(once, twice);
            Assert.Null(once.Violation);
        }
    }

    [Fact]
    public void Every_watched_world_that_once_failed_keeps_the_rules()
    {
        var lines = File.ReadAllLines(Path.Combine(DefectHunt.Root(), "seeds/regressions/watched.txt")).Where(line => line.StartsWith("watched ", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(lines);
        Assert.All(lines, line => Assert.Null(Runner.Live(PlanLine.Parse(line), new Tally()).Violation));
    }

    [Fact]
    public void A_watched_plan_is_read_back_from_its_line()
    {
        var plan = WatchedPlan.Of(17, Steps) with { Skipped = new HashSet<int> { 3, 17 } };
        Assert.Equal(plan.ToString(), PlanLine.Parse(plan.ToString()).ToString());
        Assert.EndsWith(" without 3,17", plan.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_watched_run_tells_its_counts_and_ends_with_its_violations()
    {
        using var output = new StringWriter();
        Assert.Equal(0, Simulate.Run(["--seed", "3", "--watched", "2", "--steps", "8"], output));
        Assert.StartsWith("2 watched worlds, ", output.ToString(), StringComparison.Ordinal);
        Assert.EndsWith("0 violations\n", output.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("watched 1 2")]
    [InlineData("watched 1 0 5 5 20")]
    [InlineData("watched 1 99 5 5 20")]
    public void A_line_that_is_no_watched_world_is_refused(string line)
    {
        using var output = new StringWriter();
        Assert.Equal(2, Simulate.Run(["--replay", line], output));
    }
}
