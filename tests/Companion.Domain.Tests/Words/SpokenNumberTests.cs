using Companion.Domain.Speaking;
using CsCheck;

namespace Companion.Domain.Tests.Words;

public sealed class SpokenNumberTests
{
    // Digit by digit, "decimal", whole hundreds and thousands: ICAO Annex 10 vol. II 5.2.1.4 (published).
    [Theory]
    [InlineData("four zero zero", "400")]
    [InlineData("four hundred", "400")]
    [InlineData("two thousand", "2000")]
    [InlineData("two thousand five hundred", "2500")]
    [InlineData("one one thousand", "11000")]
    [InlineData("zero decimal five", "0.5")]
    [InlineData("one two decimal three", "12.3")]
    [InlineData("one two point three", "12.3")]
    [InlineData("zero zero four", "4")]
    [InlineData("oh", "0")]
    [InlineData("niner", "9")]
    [InlineData("minus six one", "-61")]
    [InlineData("three decimal zero", "3.0")]
    public void Spoken_numbers_are_understood(string words, string number) => Assert.Equal(number, SpokenNumber.Parse(words));

    [Theory]
    [InlineData("")]
    [InlineData("four volts")]
    [InlineData("decimal five")]
    [InlineData("four decimal")]
    [InlineData("minus")]
    [InlineData("one two hundred")]
    [InlineData("forty")]
    [InlineData("one decimal two decimal three")]
    [InlineData("one two three four five six seven")]
    public void What_is_no_number_gives_none(string words) => Assert.Null(SpokenNumber.Parse(words));

    // "one two decimal three" for 12.3: ICAO Annex 10 vol. II 5.2.1.4 (published).
    [Theory]
    [InlineData("12.3", "one two decimal three")]
    [InlineData("400", "four zero zero")]
    [InlineData("-61", "minus six one")]
    public void Numbers_are_said_digit_by_digit(string number, string words) => Assert.Equal(words, SpokenNumber.Say(number));

    [Theory]
    [InlineData("")]
    [InlineData("-")]
    [InlineData(".5")]
    [InlineData("5.")]
    [InlineData("1.2.3")]
    [InlineData("4e2")]
    public void Only_written_numbers_can_be_said(string text) => Assert.Throws<FormatException>(() => SpokenNumber.Say(text));

    [Fact]
    public void Codes_keep_their_zeros() => Assert.Equal("04", SpokenNumber.Digits("zero four"));

    [Fact]
    public void What_is_said_is_understood_as_the_same_number() =>
        Gen.Select(Gen.Int[0, 999_999], Gen.Int[0, 999], Gen.Bool, Gen.Bool).Sample((whole, decimals, hasDecimals, negative) =>
        {
            var number = $"{(negative ? "-" : string.Empty)}{whole}{(hasDecimals ? $".{decimals}" : string.Empty)}";
            return SpokenNumber.Parse(SpokenNumber.Say(number)) == number;
        });
}
