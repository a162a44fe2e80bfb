using System.Text.RegularExpressions;
using Companion.Simulation.Defects;

namespace Companion.Simulation.Tests;

/// <summary>The simulator sees: the deliberate defects of the list are caught by their worlds.</summary>
public sealed partial class DefectTests
{
    private const int Least = 25;

    /// <summary>Each is compiled anew, which takes seconds: every fourth here, all of them by `./companion simulate --defects check`.</summary>
    private const int Each = 4;

    [Fact]
    public void Every_fourth_deliberate_defect_is_caught_by_its_world()
    {
        using var output = new StringWriter();
        var code = DefectHunt.Run(hunt: false, output, Each);
        Assert.True(code == 0, output.ToString());
    }

    [Fact]
    public void Every_deliberate_defect_still_has_its_place_in_the_product_and_its_world()
    {
        var root = DefectHunt.Root();
        var defects = Defect.All(root);
        Assert.True(defects.Count >= Least);
        Assert.All(defects, defect => Assert.NotEqual(defect.Find, defect.Replace));
        Assert.All(defects, defect => Assert.NotEmpty(defect.Mutated(root)));
        Assert.All(defects, defect => Assert.Equal(defect.World, Worlds.PlanLine.Parse(defect.World).ToString()));
    }

    [Fact]
    public void A_failing_world_is_made_small_and_its_line_replays_the_failure()
    {
        var root = DefectHunt.Root();
        var defect = Defect.All(root).First(one => one.Name == "a disturbance leaves the waits");
        using var mutant = Mutant.Of(defect, root);
        var (code, said) = mutant.Simulate("--seed", "1", "--runs", "60");
        Assert.Equal(1, code);
        var line = ReplayLine().Match(said).Groups[1].Value;
        Assert.Contains(" without ", line, StringComparison.Ordinal);
        var (again, told) = mutant.Simulate("--replay", line);
        Assert.Equal(1, again);
        Assert.Contains(defect.Breaks, told, StringComparison.Ordinal);
    }

    [GeneratedRegex("--replay \"(world [^\"]*)\"")]
    private static partial Regex ReplayLine();
}
