using Companion.Domain.Electrical;

namespace Companion.Domain.Tests.Electrical;

public sealed class VoltageLimitsTests
{
    // ISO 6469-4:2015 5.2.2, UN R94, FMVSS 305, published: at most 60 V DC and 30 V AC rms, equal passes.
    [Theory]
    [InlineData("60.0", VoltageKind.Dc, true)]
    [InlineData("60.1", VoltageKind.Dc, false)]
    [InlineData("60.001", VoltageKind.Dc, false)]
    [InlineData("30.0", VoltageKind.Ac, true)]
    [InlineData("30.1", VoltageKind.Ac, false)]
    [InlineData("0", VoltageKind.Dc, true)]
    public void A_reading_passes_up_to_and_at_the_ceiling(string reading, VoltageKind kind, bool passes) =>
        Assert.Equal(passes, VoltageLimits.Passes(Volts.Parse(reading), VoltageLimits.Ceiling(kind)));

    [Fact]
    public void Reversed_leads_do_not_make_a_live_system_pass() =>
        Assert.False(VoltageLimits.Passes(Volts.Parse("-61"), VoltageLimits.CeilingDc)); // magnitudes compared, same sources, published

    // Published repair manuals, as reported: acceptance at about 12 V, stricter than the ceiling.
    [Theory]
    [InlineData("12.0", true)]
    [InlineData("12.1", false)]
    public void A_stricter_limit_of_the_maker_counts_below_the_ceiling(string reading, bool passes) =>
        Assert.Equal(passes, VoltageLimits.Passes(Volts.Parse(reading), Volts.Of(12)));

    // ISO 6469-3, UN R100 paragraph 2, from memory: class B is over 60 V DC or over 30 V AC rms.
    [Theory]
    [InlineData("48", "31", true)]
    [InlineData("48", "30", false)]
    [InlineData("60", "0", false)]
    [InlineData("61", "0", true)]
    [InlineData("-61", "0", true)]
    public void A_system_is_class_b_when_either_voltage_is_over_its_border(string dc, string ac, bool classB) =>
        Assert.Equal(classB, VoltageLimits.IsClassB(Volts.Parse(dc), Volts.Parse(ac)));

    [Fact]
    public void Class_b_ends_at_1500_volts_dc_and_1000_volts_ac()
    {
        Assert.Equal(Volts.Of(1500), VoltageLimits.ClassBMostDc); // ISO 6469-3, UN R100 paragraph 2, from memory
        Assert.Equal(Volts.Of(1000), VoltageLimits.ClassBMostAc); // the same
    }
}
