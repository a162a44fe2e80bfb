using Companion.Domain.Arrival;
using Companion.Domain.Time;

namespace Companion.Domain.Tests.Arriving;

public sealed class HeatTrendTests
{
    private static HeatTrend Of(params (int Minute, int Tenths)[] readings) =>
        HeatTrend.Of([.. readings.Select(reading => new HeatReading(reading.Tenths, "boot", Ticks.OfSeconds(reading.Minute * 60L)))]);

    [Fact]
    public void A_steady_rise_is_a_rise_with_its_slope()
    {
        // Computed: 1 degree in 10 minutes is 6 degrees an hour.
        var trend = Of((0, 200), (10, 210), (20, 220));
        Assert.Equal(6, trend.DegreesPerHour!.Value, 9);
        Assert.Equal(0, trend.Uncertainty!.Value, 9);
        Assert.True(trend.IsRising);
    }

    [Fact]
    public void The_uncertainty_is_that_of_the_least_squares_slope()
    {
        // Computed by hand: x = 0, 1, 2 h; y = 20, 22, 21: slope 0.5, residue 1.5, error sqrt(1.5 / 1 / 2) = 0.8660, times t(1) = 12.706.
        var trend = Of((0, 200), (60, 220), (120, 210));
        Assert.Equal(0.5, trend.DegreesPerHour!.Value, 9);
        Assert.Equal(12.706 * Math.Sqrt(0.75), trend.Uncertainty!.Value, 9);
        Assert.False(trend.IsRising);
    }

    [Fact]
    public void A_sudden_rise_is_one_however_few_the_readings() => Assert.True(Of((0, 200), (1, 250)).IsRising);

    [Fact]
    public void Falling_and_steady_temperatures_are_no_rise()
    {
        Assert.False(Of((0, 300), (10, 290), (20, 280)).IsRising);
        Assert.False(Of((0, 200), (10, 200), (20, 200)).IsRising);
        Assert.False(Of((0, 200)).IsRising);
    }

    [Fact]
    public void Readings_of_another_running_period_are_not_placed_in_time_and_still_show_a_sudden_rise()
    {
        var trend = HeatTrend.Of([new(200, "one", Ticks.OfSeconds(9000)), new(260, "two", Ticks.OfSeconds(5))]);
        Assert.Null(trend.DegreesPerHour);
        Assert.True(trend.IsRising);
    }

    [Fact]
    public void Readings_at_one_moment_have_no_slope() => Assert.Null(Of((3, 200), (3, 201)).DegreesPerHour);
}
