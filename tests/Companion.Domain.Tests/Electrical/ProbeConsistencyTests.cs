using Companion.Domain.Electrical;
using CsCheck;

namespace Companion.Domain.Tests.Electrical;

public sealed class ProbeConsistencyTests
{
    private static readonly Gen<long> Millivolts = Gen.Long[-900_000, 900_000];

    // Kirchhoff's voltage law, computed.
    [Theory]
    [InlineData("3", "1", "2", "0.5", true)]
    [InlineData("400", "300", "100", "1", true)]
    [InlineData("200", "300", "100", "1", true)]
    [InlineData("400", "-300", "100", "1", true)]
    [InlineData("-400", "300", "-100", "1", true)]
    [InlineData("61", "30", "31", "0.5", true)]
    [InlineData("3", "65", "62", "0.5", true)]
    [InlineData("400", "300", "0", "5", false)]
    [InlineData("0", "300", "100", "5", false)]
    [InlineData("10.5", "5", "0.4", "5", false)]
    public void The_rail_reading_is_the_sum_or_the_difference_of_the_other_two(
        string rails, string positive, string negative, string floor, bool fits) =>
        Assert.Equal(fits, ProbeConsistency.Fits(Volts.Parse(rails), Volts.Parse(positive), Volts.Parse(negative), Volts.Parse(floor)));

    [Fact]
    public void Exactly_the_floor_apart_still_fits()
    {
        Assert.True(ProbeConsistency.Fits(Volts.Of(15), Volts.Of(5), Volts.Of(5), Volts.Of(5))); // computed
        Assert.False(ProbeConsistency.Fits(Volts.Parse("15.001"), Volts.Of(5), Volts.Of(5), Volts.Of(5))); // computed
    }

    [Fact]
    public void Three_true_readings_always_fit_whichever_way_the_leads_are() =>
        Gen.Select(Millivolts, Millivolts, Gen.Bool, Gen.Bool, Gen.Bool).Sample((positive, negative, one, two, three) =>
            ProbeConsistency.Fits(Lead(positive - negative, one), Lead(positive, two), Lead(negative, three), new Volts(0)));

    [Fact]
    public void A_missed_contact_beyond_the_floor_never_fits() =>
        Gen.Select(Gen.Long[10_000, 900_000], Gen.Long[10_000, 900_000]).Sample((positive, negative) =>
            !ProbeConsistency.Fits(new Volts(positive + negative), new Volts(positive), new Volts(0), new Volts(9_999)));

    [Fact]
    public void Only_three_zeros_are_all_zero()
    {
        var zero = Volts.Of(0);
        Assert.True(ProbeConsistency.AllZero(zero, zero, zero));
        Assert.False(ProbeConsistency.AllZero(zero, Volts.Parse("0.1"), zero));
    }

    private static Volts Lead(long millivolts, bool reversed) => new(reversed ? -millivolts : millivolts);
}
