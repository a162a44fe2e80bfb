using Companion.Domain.Time;

namespace Companion.Domain.Tests.Time;

public sealed class TicksTests
{
    [Theory]
    [InlineData(-1, 0)]
    [InlineData(0, 0)]
    [InlineData(1, 1)]
    [InlineData(1_000_000_000, 1)]
    [InlineData(1_000_000_001, 2)]
    public void Seconds_left_are_rounded_up_and_never_below_nothing(long nanoseconds, long seconds) =>
        Assert.Equal(seconds, new Ticks(nanoseconds).SecondsRoundedUp);

    [Fact]
    public void Whole_seconds_are_cut() => Assert.Equal(1, new Ticks(1_999_999_999).Seconds);

    [Fact]
    public void A_length_of_time_that_does_not_fit_is_a_fault_and_not_another_length()
    {
        Assert.Throws<OverflowException>(() => Ticks.OfSeconds(long.MaxValue));
        Assert.Throws<OverflowException>(() => Ticks.OfMilliseconds(long.MaxValue));
        Assert.Throws<OverflowException>(() => new Ticks(long.MaxValue) + new Ticks(1));
        Assert.Throws<OverflowException>(() => new Ticks(long.MinValue) - new Ticks(1));
    }

    [Fact]
    public void Equal_lengths_are_neither_longer_nor_shorter()
    {
        var (one, same, more) = (new Ticks(5), new Ticks(5), new Ticks(6));
        Assert.False(one > same || one < same);
        Assert.True(one >= same && one <= same && more > one && one < more);
        Assert.False(one >= more || more <= one);
    }
}
