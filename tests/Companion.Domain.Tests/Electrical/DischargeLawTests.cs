using Companion.Domain.Electrical;
using CsCheck;

namespace Companion.Domain.Tests.Electrical;

public sealed class DischargeLawTests
{
    private const double Thousandth = 0.0005;

    [Fact]
    public void The_published_example_reaches_50_volts_after_111_821_seconds()
    {
        var tau = DischargeLaw.TimeConstant(150_000, 300e-6);

        Assert.Equal(45, tau, Thousandth); // published worked example
        Assert.Equal(111.821, DischargeLaw.SecondsTo(600, 50, tau), Thousandth); // published worked example
        Assert.Equal(103.616, DischargeLaw.SecondsTo(600, 60, tau), Thousandth); // computed
        Assert.Equal(0.7636, DischargeLaw.VoltsAfter(600, tau, 300), 0.00005); // computed
    }

    // All computed from t = R C ln(V0 / V).
    [Theory]
    [InlineData(400, 100_000, 1000e-6, 189.712)]
    [InlineData(400, 50_000, 500e-6, 47.428)]
    [InlineData(800, 100_000, 500e-6, 129.513)]
    public void A_link_reaches_60_volts_when_the_formula_says(double start, double ohms, double farads, double seconds) =>
        Assert.Equal(seconds, DischargeLaw.SecondsTo(start, 60, DischargeLaw.TimeConstant(ohms, farads)), Thousandth);

    // All computed from V = V0 exp(-t / RC).
    [Theory]
    [InlineData(400, 100_000, 1000e-6, 300, 19.915)]
    [InlineData(400, 50_000, 500e-6, 60, 36.287)]
    public void What_is_left_after_a_time_follows_the_formula(double start, double ohms, double farads, double seconds, double left) =>
        Assert.Equal(left, DischargeLaw.VoltsAfter(start, DischargeLaw.TimeConstant(ohms, farads), seconds), Thousandth);

    [Fact]
    public void Two_readings_give_the_time_constant_and_the_rest_of_the_time()
    {
        var tau = DischargeLaw.TimeConstantFrom(400, 250, 20);

        Assert.Equal(42.553, tau, Thousandth); // computed
        Assert.Equal(60.728, DischargeLaw.SecondsTo(250, 60, tau), Thousandth); // computed
    }

    [Fact]
    public void After_five_time_constants_less_than_a_hundredth_is_left() =>
        Assert.Equal(0.006738, DischargeLaw.VoltsAfter(1, 45, 5 * 45), 0.0000005); // computed

    [Theory]
    [InlineData(400, 40.0)]
    [InlineData(800, 160.0)]
    [InlineData(60, 0.9)]
    public void Half_a_millifarad_holds_this_energy(double volts, double joules) =>
        Assert.Equal(joules, DischargeLaw.Joules(500e-6, volts), 1e-9); // computed

    [Fact]
    public void The_low_energy_limit_of_a_fifth_of_a_joule_is_met_here()
    {
        Assert.Equal(0.2, DischargeLaw.Joules(111.11e-6, 60), 0.00001); // computed; 0.2 J: ISO 6469-4 5.2.3, published
        Assert.Equal(28.284, DischargeLaw.VoltsHolding(0.2, 500e-6), Thousandth); // computed
    }

    [Fact]
    public void With_an_open_bleed_resistor_the_limit_is_never_reached()
    {
        var tau = DischargeLaw.TimeConstant(double.PositiveInfinity, 500e-6);

        Assert.Equal(double.PositiveInfinity, DischargeLaw.SecondsTo(400, 60, tau)); // computed
        Assert.Equal(400, DischargeLaw.VoltsAfter(400, tau, 86_400)); // computed
    }

    [Fact]
    public void A_voltage_that_did_not_fall_has_no_end() =>
        Assert.Equal(double.PositiveInfinity, DischargeLaw.TimeConstantFrom(100, 100, 20)); // computed

    [Fact]
    public void A_voltage_already_under_the_target_takes_no_time() => Assert.Equal(0, DischargeLaw.SecondsTo(40, 60, 45)); // computed

    [Theory]
    [InlineData(0, 500e-6)]
    [InlineData(-1, 500e-6)]
    [InlineData(1000, 0)]
    public void Resistance_and_capacitance_are_over_zero(double ohms, double farads) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.TimeConstant(ohms, farads));

    [Fact]
    public void The_slowest_bleed_of_the_range_needs_about_two_minutes_at_half_a_millifarad() =>
        Assert.Equal(120, DischargeLaw.SecondsTo(400, 60, DischargeLaw.TimeConstant(127_000, 500e-6)), 1.0); // computed

    // The range of vehicles: 75 uF to 3 mF, 200 to 900 V, bleed 3.9 to 127 kohm (published and computed).
    [Fact]
    public void Time_and_voltage_agree_over_the_range_of_vehicles() =>
        Gen.Select(Gen.Double[75e-6, 3e-3], Gen.Double[200, 900], Gen.Double[3_900, 127_000]).Sample((farads, start, ohms) =>
        {
            var tau = DischargeLaw.TimeConstant(ohms, farads);
            return Math.Abs(DischargeLaw.VoltsAfter(start, tau, DischargeLaw.SecondsTo(start, 60, tau)) - 60) < 1e-6;
        });

    [Fact]
    public void Impossible_figures_are_a_fault_of_the_caller()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.VoltsAfter(400, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.VoltsAfter(400, 100, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.SecondsTo(-1, 60, 100));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.SecondsTo(400, 0, 100));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.SecondsTo(400, 60, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.TimeConstantFrom(0, 250, 20));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.TimeConstantFrom(400, 0, 20));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.TimeConstantFrom(400, 250, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.VoltsHolding(-1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => DischargeLaw.VoltsHolding(1, 0));
    }

    // Computed: what does not fall has no time constant; what is at the target already needs no time.
    [Fact]
    public void A_voltage_that_stays_has_no_time_constant_and_one_at_its_target_needs_no_time()
    {
        Assert.Equal(double.PositiveInfinity, DischargeLaw.TimeConstantFrom(250, 250, 20));
        Assert.Equal(double.PositiveInfinity, DischargeLaw.TimeConstantFrom(250, 251, 20));
        Assert.Equal(0, DischargeLaw.SecondsTo(60, 60, 100));
        Assert.Equal(0, DischargeLaw.SecondsTo(0, 60, 100));
    }
}
