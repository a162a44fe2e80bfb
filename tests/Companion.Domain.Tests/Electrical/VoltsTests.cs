using Companion.Domain.Electrical;
using CsCheck;

namespace Companion.Domain.Tests.Electrical;

public sealed class VoltsTests
{
    [Theory]
    [InlineData("12", 12_000)]
    [InlineData("12.0", 12_000)]
    [InlineData("-0.5", -500)]
    [InlineData("0.001", 1)]
    public void Text_with_up_to_three_decimals_is_a_voltage(string text, long millivolts) =>
        Assert.Equal(millivolts, Volts.Parse(text).Millivolts); // computed

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("12 V")]
    [InlineData("0.0001")]
    [InlineData("1e3")]
    [InlineData("1,000")]
    [InlineData("100000")]
    [InlineData("NaN")]
    public void Anything_else_is_no_voltage(string? text) => Assert.Null(Volts.TryParse(text));

    [Fact]
    public void Writing_and_reading_gives_the_same_voltage() =>
        Gen.Long[-99_999_000, 99_999_000].Sample(millivolts => Volts.Parse(new Volts(millivolts).ToString()).Millivolts == millivolts);

    [Fact]
    public void A_voltage_that_does_not_fit_is_a_fault_and_not_another_voltage()
    {
        Assert.Throws<OverflowException>(() => Volts.Of(long.MaxValue));
        Assert.Throws<OverflowException>(() => new Volts(long.MaxValue) + new Volts(1));
        Assert.Throws<OverflowException>(() => new Volts(long.MinValue) - new Volts(1));
        Assert.Equal(Volts.Of(Volts.MostVolts), Volts.TryParse("99999"));
        Assert.Null(Volts.TryParse("99999.001"));
    }

    [Theory]
    [InlineData(0, 5, 5, 9, 0)]
    [InlineData(0, 5, 7, 9, 2)]
    [InlineData(7, 9, 0, 5, 2)]
    [InlineData(5, 9, 0, 5, 0)]
    [InlineData(0, 9, 3, 5, 0)]
    public void Two_ranges_are_as_far_apart_as_their_nearest_ends(int least, int most, int otherLeast, int otherMost, int gap) => Assert.Equal(
        Volts.Of(gap), new VoltsBetween(Volts.Of(least), Volts.Of(most)).Gap(new VoltsBetween(Volts.Of(otherLeast), Volts.Of(otherMost))));
}
