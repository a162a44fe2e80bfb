using Companion.Simulation.Defects;
using Companion.Simulation.Running;
using Companion.Simulation.Worlds;
using Companion.TestKit;

namespace Companion.Simulation.Tests;

/// <summary>Simulated worlds keep every invariant, and the simulator is itself repeatable.</summary>
public sealed class WorldTests(FiveHundredWorlds worlds) : IClassFixture<FiveHundredWorlds>
{
    private const int Checked = 200;

    // I1-I3, I5-I9, I12, I13, I15-I19, I22, I23 under the faults of design.md section 4.
    [Fact]
    public void Five_hundred_worlds_keep_every_invariant() =>
        Assert.All(worlds.Outcomes, outcome => Assert.True(outcome.Violation is null, $"{outcome.Plan}: {outcome.Violation}"));

    [Fact]
    public void Together_they_see_every_kind_of_fault_and_come_to_clear_to_work()
    {
        Assert.Equal(Faults.Kinds, worlds.Tally.Faults.Keys);
        Assert.True(worlds.Tally.Cleared >= 20, $"only {worlds.Tally.Cleared} worlds came to clear to work");
    }

    // I1, I2, I3, I6, by a program that shares no code with the product or the simulator.
    [Fact]
    public async Task Two_hundred_exported_worlds_pass_the_independent_checker()
    {
        var files = Directory.GetFiles(worlds.Folder).Order(StringComparer.Ordinal).Take(Checked).ToArray();
        Assert.Equal(Checked, files.Length);
        var report = await IndependentChecker.CheckAsync(files);
        Assert.True(report.Exit == 0, report.ToString());
    }

    // I13
    [Fact]
    public void The_same_seed_gives_the_same_head_hash_twice()
    {
        foreach (var seed in Enumerable.Range(9000, 25))
        {
            var plan = Plan.Of(seed, 80);
            var (once, twice) = (Runner.Live(plan, new Tally()), Runner.Live(plan, new Tally()));
            Assert.Equal(once, twice);
            Assert.Null(once.Violation);
        }
    }

    [Fact]
    public void Every_world_that_once_failed_keeps_the_rules()
    {
        var lines = File.ReadAllLines(Path.Combine(DefectHunt.Root(), "seeds/regressions/worlds.txt")).Where(line => line.StartsWith("world ", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(lines);
        Assert.All(lines, line => Assert.Null(Runner.Live(Plan.Parse(line), new Tally()).Violation));
    }

    [Fact]
    public void A_plan_is_read_back_from_its_line()
    {
        var plan = Plan.Of(17, 80) with { Skipped = new HashSet<int> { 3, 17 } };
        Assert.Equal(plan.ToString(), Plan.Parse(plan.ToString()).ToString());
        Assert.EndsWith(" without 3,17", plan.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_tells_its_counts_and_ends_with_its_violations()
    {
        using var output = new StringWriter();
        Assert.Equal(0, Simulate.Run(["--seed", "3", "--runs", "4", "--steps", "12"], output));
        Assert.StartsWith("4 worlds, ", output.ToString(), StringComparison.Ordinal);
        Assert.EndsWith("0 violations\n", output.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--runs", "many")]
    [InlineData("--runs", "0")]
    [InlineData("--speed", "3")]
    [InlineData("--seed")]
    [InlineData("--replay", "world 1 2")]
    [InlineData("--replay", "world a b c d e")]
    public void Wrong_options_are_refused_with_what_is_right(params string[] arguments)
    {
        using var output = new StringWriter();
        Assert.Equal(2, Simulate.Run(arguments, output));
        Assert.Contains("simulate [--seed N]", output.ToString(), StringComparison.Ordinal);
    }
}
