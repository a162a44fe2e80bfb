using Companion.Domain.Retention;

namespace Companion.Sheets.Tests;

public sealed class RetentionReaderTests
{
    private static string Seed => File.ReadAllText(Path.Combine(Seeds.Folder, "retention.yaml"));

    [Fact]
    public void The_seed_is_read_as_it_stands() =>
        Assert.Equal(new RetentionPolicy(365, 30, 90, 365, 30), RetentionReader.Read(Seed).Policy);

    [Theory]
    [InlineData("heard: 30", "heard: soon", "whole number of days")]
    [InlineData("heard: 30", "heard: -1", "whole number of days")]
    [InlineData("heard: 30", "hearsay: 30", "hearsay")]
    [InlineData("heard: 30\n", "", "heard")]
    public void A_policy_that_must_not_be_used_says_what_to_mend(string from, string to, string expected)
    {
        var reading = RetentionReader.Read(Seed.Replace(from, to, StringComparison.Ordinal));
        Assert.Null(reading.Policy);
        Assert.Contains(reading.Problems, problem => problem.ToString().Contains(expected, StringComparison.Ordinal) && problem.Line > 0);
    }

    [Fact]
    public void A_missing_file_is_a_problem_and_no_crash() => Assert.NotEmpty(RetentionReader.ReadFile("/nowhere/retention.yaml").Problems);
}
