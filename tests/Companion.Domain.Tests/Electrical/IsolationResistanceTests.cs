using Companion.Domain.Electrical;

namespace Companion.Domain.Tests.Electrical;

/// <summary>UN R100, annex on measuring isolation resistance with a known resistor (FMVSS 305 S7.6 gives the same result), published.</summary>
public sealed class IsolationResistanceTests
{
    private static readonly IsolationReadings Good = Readings("400", "300", "100", "200000", "218.181818");

    // The ohms are computed from the published formula; the limits are those of UN R100 5.1.3, published; the verdict for AC is computed.
    [Theory]
    [InlineData("400", "300", "100", "200000", Rail.Negative, "218.181818", "100000", "250.000", true, false)]
    [InlineData("400", "100", "300", "200000", Rail.Positive, "218.181818", "100000", "250.000", true, false)]
    [InlineData("400", "200", "200", "200000", Rail.Negative, "57.142857", "1000000", "2500", true, true)]
    [InlineData("360", "300", "60", "180000", Rail.Negative, "270.000", "24000", "66.667", false, false)]
    [InlineData("800", "600", "200", "400000", Rail.Negative, "436.363636", "200000", "250.000", true, false)]
    [InlineData("360", "250", "110", "180000", Rail.Negative, "200", "64800", "180.000", true, false)]
    public void The_known_resistor_gives_the_weaker_leg(
        string vb, string v1, string v2, string ro, Rail from, string primed, string ohms, string ohmsPerVolt, bool dc, bool ac)
    {
        var readings = Readings(vb, v1, v2, ro, primed);
        var found = Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(readings));

        Assert.Equal(from, IsolationResistance.ResistorFrom(readings));
        Assert.NotEqual(from, found.WeakLeg); // computed: the rail with the smaller voltage to chassis
        Assert.Equal(Number(ohms), Math.Round(found.Ohms)); // the primed voltage is given to a millionth of a volt
        Assert.Equal(Number(ohmsPerVolt), Math.Round(found.OhmsPerVolt, 3));
        Assert.Equal((dc, ac), (found.PassesDc, found.PassesAc));
        Assert.Empty(found.Cautions);
    }

    // Computed: the edges of what can be measured at all. One rail at zero volts to chassis is a hard fault, and is worked out.
    [Fact]
    public void Figures_at_their_edges_are_worked_out_and_beyond_them_refused()
    {
        Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Good with { NegativeToChassis = 400, PositiveToChassis = 0, Primed = 300 }));
        Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Good with { NegativeToChassis = 0, PositiveToChassis = 400, Primed = 300 }));
        Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Good with { MeterPercent = 0 }));
        Assert.IsType<IsolationResult.Unusable>(IsolationResistance.Of(Good with { MeterPercent = -1 }));
        Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Readings("1500", "1000", "500", "750000", "800")));
        Assert.IsType<IsolationResult.Unusable>(IsolationResistance.Of(Readings("1501", "1001", "500", "750000", "800")));
        Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Good with { KnownOhms = IsolationResistance.MostOhms }));
        Assert.IsType<IsolationResult.Unusable>(IsolationResistance.Of(Good with { KnownOhms = IsolationResistance.MostOhms + 1 }));
        Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Good with { Primed = IsolationResistance.Nothing }));
    }

    // Computed: 1 percent of both figures together, 4 + 4 volts at 400.
    [Fact]
    public void Readings_that_are_as_far_apart_as_the_meter_explains_are_taken()
    {
        var edge = Good with { NegativeToChassis = 300, PositiveToChassis = 92.07920792079207920792079208m, MeterPercent = 1 };
        Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(edge with { PositiveToChassis = 92.08m }));
        Assert.IsType<IsolationResult.Unusable>(IsolationResistance.Of(edge with { PositiveToChassis = 92.07m }));
    }

    [Fact]
    public void A_resistor_that_suits_no_limit_is_named_with_those_that_would()
    {
        var found = Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Good with { KnownOhms = 90_000 }));
        Assert.Contains("40000 ohms for a DC system, 200000 ohms with AC parts", Assert.Single(found.Cautions), StringComparison.Ordinal);
    }

    // A circuit worked from its resistors: Ri of 36 000 ohms at 360 V is exactly the DC limit, and equal passes.
    [Fact]
    public void Exactly_the_limit_passes()
    {
        // Computed: negative leg 180 k, positive leg 36 k, Ro 180 k from the negative rail: V1 = 300, V1' = 360 * 90 / 126.
        var found = Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Readings("360", "300", "60", "180000", "257.142857")));
        Assert.InRange(found.OhmsPerVolt, 99.9999m, 100.0001m);
        Assert.True(found with { OhmsPerVolt = 100 } is { PassesDc: true, PassesAc: false });
        Assert.True(found with { OhmsPerVolt = 500 } is { PassesAc: true });
        Assert.False((found with { OhmsPerVolt = 99.999m }).PassesDc);
    }

    [Theory]
    [InlineData("0", "the voltage is zero")]
    [InlineData("0.0005", "the voltage is zero")]
    [InlineData("300", "must be lower than without")]
    [InlineData("301", "must be lower than without")]
    public void A_primed_reading_that_cannot_be_is_refused(string primed, string reason) => Refused(Good with { Primed = Number(primed) }, reason);

    [Theory]
    [InlineData("1", "392.1", true)] // computed: 1 % of 400 and of 392.1 together is 7.921 V, and 7.9 V are missing
    [InlineData("1", "392", false)] // computed: 7.92 V, and 8 V are missing
    [InlineData("0.5", "392.1", false)]
    public void Readings_that_do_not_add_up_within_the_meters_tolerance_are_refused(string percent, string sum, bool taken)
    {
        var readings = Good with { NegativeToChassis = Number(sum) - 100, MeterPercent = Number(percent) };
        if (taken)
        {
            Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(readings));
        }
        else
        {
            Refused(readings, "A probe was misplaced or missed contact");
        }
    }

    [Theory]
    [InlineData("9.9", false)]
    [InlineData("10", true)] // UN R100 annex, published: 10 Mohm or more
    public void A_voltmeter_that_loads_the_circuit_is_refused(string megohms, bool taken) =>
        Assert.Equal(taken, IsolationResistance.Of(Good with { MeterMegohms = Number(megohms) }) is IsolationResult.Found);

    // UN R100 annex, published: within 20 % of limit times voltage. At 400 V: 40 k (DC) and 200 k (AC).
    [Theory]
    [InlineData("32000", false)]
    [InlineData("31999", true)]
    [InlineData("48000", false)]
    [InlineData("48001", true)]
    [InlineData("160000", false)]
    [InlineData("240000", false)]
    [InlineData("240001", true)]
    public void A_resistor_far_from_limit_times_voltage_is_a_caution_not_a_refusal(string ohms, bool cautioned)
    {
        var found = Assert.IsType<IsolationResult.Found>(IsolationResistance.Of(Good with { KnownOhms = Number(ohms) }));
        Assert.Equal(cautioned, found.Cautions.Length == 1);
    }

    [Fact]
    public void Figures_that_are_no_measurement_are_refused()
    {
        Refused(Good with { RailToRail = 0 }, "Measure with the pack connected");
        Refused(Good with { NegativeToChassis = -300 }, "given as magnitudes");
        Refused(Good with { RailToRail = 1501 }, "at most 1500 volts");
        Refused(Good with { KnownOhms = 0 }, "the known resistor over zero");
        Refused(Good with { KnownOhms = decimal.MaxValue }, "the known resistor over zero");
    }

    private static void Refused(IsolationReadings readings, string reason) =>
        Assert.Contains(reason, Assert.IsType<IsolationResult.Unusable>(IsolationResistance.Of(readings)).Reason, StringComparison.Ordinal);

    private static IsolationReadings Readings(string vb, string v1, string v2, string ro, string primed) => new()
    {
        RailToRail = Number(vb),
        NegativeToChassis = Number(v1),
        PositiveToChassis = Number(v2),
        KnownOhms = Number(ro),
        Primed = Number(primed),
        MeterMegohms = 10,
    };

    private static decimal Number(string text) => decimal.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
