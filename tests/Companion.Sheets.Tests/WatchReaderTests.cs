using Companion.Domain.CheckIn;

namespace Companion.Sheets.Tests;

public sealed class WatchReaderTests
{
    private static string Seed => File.ReadAllText(Path.Combine(Seeds.Folder, "watch.yaml"));

    [Fact]
    public void The_seed_arrangement_is_read_as_it_stands()
    {
        var reading = WatchReader.Read(Seed);
        Assert.Empty(reading.Problems);
        Assert.Equal((60, CheckInPhrase.StatusAllRight), (reading.Policy!.LeadSeconds, reading.Policy.Quiet));
        Assert.Equal(new PhaseTimes(WorkPhase.Exposed, 900, 300, 120), reading.Policy.Of(WorkPhase.Exposed));
    }

    [Theory]
    [InlineData("phase: exposed", "phase: working", "The phase exposed needs exactly one line of times.")]
    [InlineData("phase: exposed, intervalseconds: 900, aloneseconds: 300", "phase: exposed, intervalseconds: 900, aloneseconds: 901", "not longer than with a second person")]
    [InlineData("leadseconds: 60", "leadseconds: 300", "shorter than the interval of exposed")]
    [InlineData("quiet: statusallright", "quiet: pineapple", "one of allright, statusallright")]
    [InlineData("leadseconds: 60", "leadseconds: soon", "whole number of seconds")]
    public void An_arrangement_that_must_not_be_used_says_what_to_mend(string from, string to, string expected)
    {
        var broken = Seed.Replace(from, to, StringComparison.Ordinal);
        Assert.NotEqual(Seed, broken);
        var reading = WatchReader.Read(broken);
        Assert.Null(reading.Policy);
        Assert.Contains(reading.Problems, problem => problem.ToString().Contains(expected, StringComparison.Ordinal) && problem.Line > 0);
    }

    [Theory]
    [InlineData("", false)]
    [InlineData("position: false\n", false)]
    [InlineData("position: true\n", true)]
    public void Where_the_tablet_is_is_told_only_if_the_operator_says_so(string line, bool shared)
    {
        var reading = WatchReader.Read(line + Seed);
        Assert.NotNull(reading.Policy);
        Assert.Equal(shared, reading.SharesPosition);
    }

    [Fact]
    public void A_position_that_is_neither_on_nor_off_is_a_problem()
    {
        var reading = WatchReader.Read("position: perhaps\n" + Seed);
        Assert.Null(reading.Policy);
        Assert.False(reading.SharesPosition);
        Assert.Contains(reading.Problems, problem => problem.Line == 1 && problem.ToString().Contains("true or false", StringComparison.Ordinal));
    }

    [Fact]
    public void A_missing_file_is_a_problem_and_no_crash() => Assert.NotEmpty(WatchReader.ReadFile("/nowhere/watch.yaml").Problems);
}
