using System.Text.RegularExpressions;

namespace Companion.Architecture;

/// <summary>The engineers' notes name a test for every threat and every figure: a name that no test has would be a claim.</summary>
public sealed partial class NamedTests
{
    [Fact]
    public void Every_test_that_the_notes_name_exists()
    {
        var classes = Repository.Files("tests", ".cs").SelectMany(file => Class().Matches(Repository.Read(file)).Select(match => match.Groups[1].Value)).ToHashSet();
        var named = Name().Matches(Repository.Read("DEVELOPERS.md")).Select(match => match.Groups[1].Value).Distinct().ToList();

        Assert.True(named.Count > 20, $"Only {named.Count} names were found.");
        Assert.Equal([], named.Where(name => !classes.Contains(name)));
    }

    [GeneratedRegex(@"\bclass (\w+)")]
    private static partial Regex Class();

    [GeneratedRegex(@"`([A-Z]\w+(?:Tests|Properties))`")]
    private static partial Regex Name();
}
