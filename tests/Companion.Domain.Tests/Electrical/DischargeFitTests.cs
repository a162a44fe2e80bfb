using Companion.Domain.Electrical;
using CsCheck;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.RootFinding;

namespace Companion.Domain.Tests.Electrical;

public sealed class DischargeFitTests
{
    private const double Thousandth = 0.0005;
    private const double Exact = 1e-9;

    // 600 V, 150 kohm, 300 uF (published worked example and computed); the other rows computed.
    [Theory]
    [InlineData(600, 150_000, 300e-6, 45, 103.616)]
    [InlineData(400, 100_000, 1000e-6, 100, 189.712)]
    [InlineData(400, 50_000, 500e-6, 25, 47.428)]
    [InlineData(800, 100_000, 500e-6, 50, 129.513)]
    public void Readings_on_the_curve_give_back_the_time_constant_the_time_to_60_volts_and_the_resistance(
        double start, double ohms, double farads, double tau, double secondsTo60)
    {
        var fit = DischargeFit.Of(Curve(start, ohms * farads, [0, 5, 12, 20]));

        Assert.Equal(tau, fit.TimeConstant.Value, tau * Exact);
        Assert.Equal(secondsTo60 - 20, fit.SecondsTo(60).Value, Thousandth);
        Assert.Equal(ohms, fit.Ohms(farads).Value, ohms * Exact);
    }

    // published worked example, 50 V at 111.821 s; 5 tau = 0.6738 % left, computed.
    [Fact]
    public void The_published_example_is_at_50_volts_after_111_821_seconds()
    {
        var fit = DischargeFit.Of(Curve(600, 45, [0, 10, 20]));

        Assert.Equal(111.821, 20 + fit.SecondsTo(50).Value, Thousandth);
        Assert.Equal(0.006738 * 600, fit.VoltsAt((5 * 45) - 20).Value, Thousandth);
    }

    // 400 V then 250 V 20 s later, computed. A third reading on the same curve makes a fit of it.
    [Fact]
    public void A_fall_from_400_to_250_volts_in_20_seconds_has_42_553_seconds_and_60_728_seconds_more()
    {
        var fit = DischargeFit.Of([new(0, 400), new(10, Math.Sqrt(400.0 * 250)), new(20, 250)]);

        Assert.Equal(42.553, fit.TimeConstant.Value, Thousandth);
        Assert.Equal(60.728, fit.SecondsTo(60).Value, Thousandth);
        Assert.Equal(60.728, fit.SecondsTo(60).Lower, Thousandth);
        Assert.Equal(60.728, fit.SecondsTo(60).Upper, Thousandth);
    }

    // bleed open = never, computed.
    [Fact]
    public void With_an_open_bleed_resistor_the_limit_is_never_reached()
    {
        var fit = DischargeFit.Of([new(0, 400), new(10, 400), new(20, 400)]);

        Assert.Equal(Estimate.Never, fit.TimeConstant);
        Assert.Equal(Estimate.Never, fit.SecondsTo(60));
    }

    [Fact]
    public void Readings_that_may_as_well_rise_have_no_latest_time()
    {
        var fit = DischargeFit.Of([new(0, 400), new(10, 380), new(20, 395), new(30, 390)]);

        Assert.True(fit.Slope < 0 && fit.Slope + fit.SlopeMargin > 0);
        Assert.Equal(double.PositiveInfinity, fit.TimeConstant.Upper);
        Assert.Equal(double.PositiveInfinity, fit.SecondsTo(60).Upper);
        Assert.True(double.IsFinite(fit.SecondsTo(60).Lower));
    }

    [Fact]
    public void A_line_that_rises_never_comes_down_to_the_limit() =>
        Assert.Equal(Estimate.Never, DischargeFit.Of([new(0, 100), new(10, 120), new(20, 145), new(30, 173)]).SecondsTo(60));

    [Fact]
    public void What_is_under_the_limit_takes_no_time() => Assert.Equal(default, DischargeFit.Of(Curve(50, 45, [0, 10, 20])).SecondsTo(60));

    [Fact]
    public void Impossible_readings_are_not_fitted()
    {
        Refused([new(0, 400), new(10, 300)]);
        Refused([new(0, 400), new(10, 300), new(10, 250)]);
        Refused([new(0, 400), new(20, 300), new(10, 250)]);
        foreach (var volts in new[] { 0, -1, double.NaN, double.PositiveInfinity, Volts.MostVolts + 1.0 })
        {
            Refused([new(0, 400), new(10, volts), new(20, 250)]);
        }

        foreach (var seconds in new[] { double.NaN, double.NegativeInfinity, double.PositiveInfinity })
        {
            Refused([new(0, 400), new(seconds, 300), new(20, 250)]);
        }

        var fit = DischargeFit.Of(Curve(400, 45, [0, 10, 20]));
        Assert.Throws<ArgumentOutOfRangeException>(() => fit.SecondsTo(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => fit.Ohms(0));

        static void Refused(DischargePoint[] readings) => Assert.Throws<ArgumentException>(() => DischargeFit.Of(readings));
    }

    // MathNet.Numerics, Student's t by its inverse distribution.
    [Fact]
    public void The_table_of_Students_t_is_that_of_MathNet()
    {
        for (var freedom = 1; freedom <= 30; freedom++)
        {
            Assert.Equal(MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, freedom, 0.975), Domain.Electrical.StudentT.TwoSided95(freedom), Thousandth);
        }

        Assert.True(Domain.Electrical.StudentT.TwoSided95(10_000) >= Normal.InvCDF(0, 1, 0.975));
        Assert.Throws<ArgumentOutOfRangeException>(() => Domain.Electrical.StudentT.TwoSided95(0));
    }

    // MathNet.Numerics: the normal equations by its matrices, and the ends of the time where its root finder puts them on the band.
    [Fact]
    public void Slope_error_and_intervals_are_those_of_MathNet() => Readings(3, 40).Sample(readings =>
    {
        var fit = DischargeFit.Of(readings);
        var last = readings[^1].Seconds;
        var times = Matrix<double>.Build.Dense(readings.Length, 2, (row, column) => column == 0 ? 1 : readings[row].Seconds - last);
        var logarithms = Vector<double>.Build.Dense(readings.Length, row => Math.Log(readings[row].Volts));
        var line = times.QR().Solve(logarithms);
        var residual = logarithms - (times * line);
        var covariance = (times.Transpose() * times).Inverse() * (residual.DotProduct(residual) / (readings.Length - 2));
        var margin = Domain.Electrical.StudentT.TwoSided95(readings.Length - 2);

        Assert.InRange(fit.Slope - line[1], -1e-8 * Math.Max(Math.Abs(line[1]), fit.StandardError), 1e-8 * Math.Max(Math.Abs(line[1]), fit.StandardError));
        Near(Math.Sqrt(covariance[1, 1]), fit.StandardError, 1e-6);
        Near(Math.Exp(line[0]), fit.VoltsAt(0).Value, 1e-8);
        var time = fit.SecondsTo(60);
        if (time.Upper is > 1e-3 and < 1e5)
        {
            Near(Root(1, time.Upper), time.Upper, 1e-6);
            Near(Root(-1, time.Lower), time.Lower, 1e-6);
        }

        double Root(int side, double near) => near < 1e-3 ? near : Brent.FindRoot(seconds => Edge(side, seconds), near * 0.5, near * 1.5, 1e-10);

        double Edge(int side, double seconds)
        {
            var at = Vector<double>.Build.Dense([1, seconds]);
            return at.DotProduct(line) + (side * margin * Math.Sqrt(at.DotProduct(covariance * at))) - Math.Log(60);
        }
    });

    // The range of vehicles: 75 uF to 3 mF, 200 to 900 V, bleed 3.9 to 127 kohm (published and computed).
    [Fact]
    public void Without_noise_the_time_constant_comes_back_to_a_billionth() => Vehicles(3, 12).Sample(vehicle =>
    {
        var fit = DischargeFit.Of(Curve(vehicle.Start, vehicle.Tau, vehicle.Times));
        Near(vehicle.Tau, fit.TimeConstant.Value, Exact);
        Near(DischargeLaw.SecondsTo(fit.LastVolts, 60, vehicle.Tau), fit.SecondsTo(60).Value, 1e-8);
    });

    // By its construction the interval holds the truth in 95 of 100; rounding to whole volts is no normal noise, so the bound is generous.
    [Fact]
    public void With_a_meter_that_rounds_to_a_volt_the_true_time_constant_lies_in_the_interval_in_about_95_of_100() =>
        Vehicles(4, 12).Array[4_000].Sample(
            vehicles =>
            {
                var held = vehicles.Count(vehicle =>
                {
                    var readings = Curve(vehicle.Start, vehicle.Tau, vehicle.Times).Select(reading => reading with { Volts = Math.Round(reading.Volts) });
                    var tau = DischargeFit.Of([.. readings]).TimeConstant;
                    return tau.Lower <= vehicle.Tau && vehicle.Tau <= tau.Upper;
                });
                Assert.InRange((double)held / vehicles.Length, 0.91, 0.99);
            },
            iter: 2);

    private static void Near(double expected, double actual, double share) =>
        Assert.True(Math.Abs(expected - actual) <= share * Math.Max(1e-12, Math.Abs(expected)), $"{expected:R} against {actual:R}");

    private static DischargePoint[] Curve(double start, double tau, double[] times) =>
        [.. times.Select(seconds => new DischargePoint(seconds, DischargeLaw.VoltsAfter(start, tau, seconds)))];

    /// <summary>Readings that need not lie on any curve.</summary>
    private static Gen<DischargePoint[]> Readings(int least, int most) =>
        Gen.Select(Gen.Double[0.5, 30], Gen.Double[61, 900]).Array[least, most].Select(steps =>
        {
            var seconds = 0.0;
            return steps.Select(step => new DischargePoint(seconds += step.Item1, step.Item2)).ToArray();
        });

    /// <summary>Vehicles, read at random times within one and a half time constants.</summary>
    private static Gen<(double Start, double Tau, double[] Times)> Vehicles(int least, int most) => Gen.Select(
        Gen.Double[75e-6, 3e-3], Gen.Double[200, 900], Gen.Double[3_900, 127_000], Gen.Double[0.1, 1].Array[least, most], Gen.Double[0.3, 1.5],
        (farads, start, ohms, steps, whole) =>
        {
            var tau = farads * ohms;
            var passed = 0.0;
            return (start, tau, steps.Select(step => (passed += step) / steps.Sum() * whole * tau).ToArray());
        });
}
