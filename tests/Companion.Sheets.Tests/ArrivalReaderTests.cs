using Companion.Domain.Arrival;

namespace Companion.Sheets.Tests;

public sealed class ArrivalReaderTests
{
    private static string Seed => File.ReadAllText(Path.Combine(Seeds.Folder, "arrival.yaml"));

    [Fact]
    public void The_seed_list_may_be_used_and_covers_every_concern()
    {
        var reading = ArrivalReader.Read(Seed);
        Assert.Empty(reading.Problems);
        Assert.Empty(ArrivalRules.Faults(reading.List!));
        Assert.All(reading.List!.Items, item => Assert.DoesNotContain("safe", item.Say + item.Then, StringComparison.OrdinalIgnoreCase));
    }

    [Theory]
    [InlineData("leads: standoff, say: \"Fire", "leads: note, say: \"Fire", "must lead to standoff")]
    [InlineData("standoffcentimetres: 1600", "standoffcentimetres: 1520", "50 feet")]
    [InlineData("concern: implant", "concern: other", "No item covers implant")]
    [InlineData("concern: water", "concern: flood", "one of traffic")]
    [InlineData("emergencynumber: \"112\"", "emergencynumber: \"one\"", "digits only")]
    public void A_list_that_must_not_be_used_says_what_to_mend_with_its_line(string from, string to, string expected)
    {
        var broken = Seed.Replace(from, to, StringComparison.Ordinal);
        Assert.NotEqual(Seed, broken);
        var reading = ArrivalReader.Read(broken);
        Assert.Null(reading.List);
        Assert.Contains(reading.Problems, problem => problem.ToString().Contains(expected, StringComparison.Ordinal) && problem.Line > 0);
    }

    [Fact]
    public void A_missing_file_is_a_problem_and_no_crash() => Assert.NotEmpty(ArrivalReader.ReadFile("/nowhere/arrival.yaml").Problems);
}
