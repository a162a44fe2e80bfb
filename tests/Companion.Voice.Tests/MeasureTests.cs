using Companion.Benchmarks;

namespace Companion.Voice.Tests;

public sealed class MeasureTests
{
    [Fact]
    public void Word_error_rate_agrees_with_the_published_example() =>
        Assert.Equal(0.213, WordErrorRate.Of(27, 6, 0, 155), 3); // NIST: 27 S + 6 D + 0 I over 155 = 21.3 % (published)

    [Theory]
    [InlineData("voltage four zero zero volts confirm", "voltage four zero volts confirmed now", 3, 6)] // computed
    [InlineData("affirm four seven", "affirm four seven", 0, 3)] // computed
    [InlineData("affirm four seven", "", 3, 3)] // computed
    [InlineData("stop", "please stop now", 2, 1)] // computed
    public void Errors_are_those_of_the_cheapest_alignment(string said, string heard, int errors, int words) =>
        Assert.Equal((errors, words), WordErrorRate.Count(said, heard));

    [Theory]
    [InlineData(0, 100, 0.02951)] // computed: 1 - 0.05^(1/100), the "rule of three"
    [InlineData(0, 1000, 0.002991)] // computed: 1 - 0.05^(1/1000)
    [InlineData(1, 1, 1)]
    public void The_upper_bound_is_that_of_clopper_and_pearson(int seen, int trials, double bound) =>
        Assert.Equal(bound, UpperBound.Of(seen, trials), 5);
}
