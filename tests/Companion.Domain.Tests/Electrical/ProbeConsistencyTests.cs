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

    private static Volts Lead(long millivolts, bool reversed) => new(reversed ? -millivolts : millivolts);

    // Kirchhoff, computed: a floor of 5 V either way, at its very edge.
    [Theory]
    [InlineData(105, 70, 30, true)]
    [InlineData(106, 70, 30, false)]
    [InlineData(95, 70, 30, true)]
    [InlineData(94, 70, 30, false)]
    [InlineData(45, 70, 30, true)]
    [InlineData(46, 30, 70, false)]
    [InlineData(35, 30, 70, true)]
    [InlineData(34, 30, 70, false)]
    public void Readings_below_a_bound_fit_wherever_a_value_between_them_fits(int rails, int positive, int negative, bool fits)
    {
        Assert.Equal(fits, ProbeConsistency.Fits(Exactly(rails), Exactly(positive), Exactly(negative), Volts.Of(5)));
        Assert.True(ProbeConsistency.Fits(Exactly(rails), Below(Math.Max(rails, positive)), Below(Math.Max(rails, negative)), Volts.Of(5)));
    }

    [Fact]
    public void The_difference_of_two_readings_below_a_bound_is_anything_up_to_the_bound()
    {
        Assert.True(ProbeConsistency.Fits(Exactly(11), Exactly(6), Below(6), Volts.Of(0)));
        Assert.True(ProbeConsistency.Fits(Exactly(3), Below(6), Exactly(9), Volts.Of(0)));
        Assert.True(ProbeConsistency.Fits(Exactly(3), Exactly(9), Below(6), Volts.Of(0)));
        Assert.False(ProbeConsistency.Fits(Exactly(2), Exactly(9), Below(6), Volts.Of(0)));
        Assert.False(ProbeConsistency.Fits(Exactly(16), Exactly(9), Below(6), Volts.Of(0)));
    }

    private static VoltsBetween Exactly(int volts) => new(Volts.Of(volts), Volts.Of(volts));

    private static VoltsBetween Below(int volts) => new(Volts.Of(0), Volts.Of(volts));
}
