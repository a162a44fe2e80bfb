using Companion.TestKit.Judging;

namespace Companion.Domain.Tests.Properties;

/// <summary>Walks that once broke a rule, or that break one as soon as a guard is taken out, lived again with every check.</summary>
public sealed class RegressionProperties
{
    [Fact]
    public void Every_walk_of_the_regression_files_keeps_the_rules()
    {
        var walks = Directory.EnumerateFiles(Folder(), "*.txt").SelectMany(File.ReadAllLines)
            .Where(line => line.StartsWith("walk ", StringComparison.Ordinal)).Select(Walk.Parse).ToList();
        Assert.NotEmpty(walks);
        foreach (var walk in walks)
        {
            var world = walk.Live();
            LogProperties.Judge(world);
            foreach (var turn in world.Turns)
            {
                TurnChecks.Hold(turn, world.Log);
                VoidChecks.Hold(turn, world.Sheet);
            }
        }
    }

    private static string Folder()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Companion.sln")))
            {
                return Path.Combine(folder.FullName, "seeds", "regressions");
            }
        }

        throw new DirectoryNotFoundException("seeds/regressions stands beside the solution.");
    }
}
