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
}
