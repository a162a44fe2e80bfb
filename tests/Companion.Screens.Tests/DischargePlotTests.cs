using System.Globalization;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Electrical;
using Companion.Domain.Time;
using Companion.Screens.Showing;
using Companion.Screens.Tests.Support;
using Companion.TestKit;

namespace Companion.Screens.Tests;

public sealed class DischargePlotTests
{
    [Fact]
    public void One_reading_is_no_picture()
    {
        var screen = AtFrontWait();
        Assert.Null(screen.Screen.View.Discharge);
        Watch(screen, 0, 400);
        Assert.Null(screen.Screen.View.Discharge);
    }

    [Fact]
    public void Two_readings_are_drawn_with_the_limit_and_no_line()
    {
        var plot = Watch(Watch(AtFrontWait(), 0, 400), 10, 362).Screen.View.Discharge!;

        Assert.Equal(2, plot.Points.Length);
        Assert.Equal("limit 60 V", plot.Limit.Label);
        Assert.Empty(plot.Line);
        Assert.Empty(plot.Band);
        Assert.Equal("front inverter, positive to negative", plot.Title);
        Assert.Equal("Too few readings to judge. The wait goes on.", plot.Verdict);
        Assert.Empty(plot.Figures);
    }

    // 400 V, 100 kohm, 1 000 uF: 60 V after 189.712 s, tau 100 s; 20 s later 169.712 s are left, computed.
    [Fact]
    public void Three_readings_are_drawn_with_their_line_its_band_and_the_figures()
    {
        var plot = Falling().Screen.View.Discharge!;

        Assert.Equal("Falling as expected. The wait goes on.", plot.Verdict);
        Assert.StartsWith("To 60 V: about 170 s more, from 169 to 17", plot.Figures[0], StringComparison.Ordinal);
        Assert.StartsWith("Time constant 100 s, from ", plot.Figures[1], StringComparison.Ordinal);
        Assert.Equal(25, plot.Line.Length);
        Assert.Equal(50, plot.Band.Length);
    }

    [Fact]
    public void With_a_capacitance_in_the_sheet_resistance_and_energy_are_told()
    {
        var sheet = DemoSheets.Van();
        var screen = new ScreenBench(new JobBench
        {
            Sheet = sheet with { Circuits = [.. sheet.Circuits.Select(circuit => circuit.Id.Value == "front" ? circuit with { Microfarads = 1000 } : circuit)] },
        }.Open().Prepare().Until(NeedKind.OpenPoint, 2).Until(NeedKind.WaitOver));
        Watch(Watch(Watch(screen, 0, 400), 10, 361.935), 10, 327.492);

        Assert.Contains("Discharges through 100 kilohm", screen.Screen.View.Discharge!.Figures); // computed
        Assert.Contains("Stored at the last reading: 53.6 J, over 0.20 J", screen.Screen.View.Discharge!.Figures); // E = C V^2 / 2, computed
    }

    [Fact]
    public void Everything_drawn_lies_within_the_axes_and_a_later_lower_reading_further_right_and_down()
    {
        var plot = Falling().Screen.View.Discharge!;

        Assert.All([.. plot.Points, .. plot.Line, .. plot.Band, plot.Limit, .. plot.VoltTicks, .. plot.TimeTicks], mark =>
        {
            Assert.InRange(mark.X, DischargePlot.Left - 1e-9, DischargePlot.Right + 1e-9);
            Assert.InRange(mark.Y, DischargePlot.Top - 1e-9, DischargePlot.Bottom + 1e-9);
        });
        Assert.True(plot.Points[0].X < plot.Points[1].X && plot.Points[0].Y < plot.Points[1].Y);
        Assert.Equal(["0 V", "100 V", "200 V", "300 V", "400 V"], plot.VoltTicks.Select(tick => tick.Label));
        Assert.Equal("0 min", plot.TimeTicks[0].Label);
        Assert.InRange(plot.TimeTicks.Length, 3, 6);
    }

    [Fact]
    public void The_line_meets_the_limit_where_the_figures_say()
    {
        var plot = Falling().Screen.View.Discharge!;
        var above = plot.Line.Last(mark => mark.Y < plot.Limit.Y);
        var below = plot.Line.First(mark => mark.Y >= plot.Limit.Y);
        var right = plot.TimeTicks[^1];
        var seconds = int.Parse(right.Label.Split(' ')[0], CultureInfo.InvariantCulture) * 60.0 / (right.X - DischargePlot.Left);
        Assert.InRange(190, (above.X - DischargePlot.Left) * seconds, (below.X - DischargePlot.Left) * seconds); // 189.712 s, computed
    }

    // I18
    [Fact]
    public void Without_word_from_the_engine_nothing_is_drawn()
    {
        var screen = Falling();
        screen.Silence = Ticks.OfSeconds(2);
        screen.Screen.Turn();
        Assert.Equal(ViewKind.NotConnected, screen.Screen.View.Kind);
        Assert.Null(screen.Screen.View.Discharge);
    }

    // I16
    [Fact]
    public void Without_a_record_nothing_is_drawn()
    {
        var screen = Falling();
        screen.Recording = false;
        screen.Screen.Turn();
        Assert.Null(screen.Screen.View.Discharge);
    }

    [Fact]
    public void In_doubt_and_after_a_void_nothing_is_drawn()
    {
        var doubt = Falling();
        doubt.Bench.Time.Sleep(Ticks.OfSeconds(60));
        doubt.Bench.Do(new Tick());
        doubt.Screen.Turn();
        Assert.Null(doubt.Screen.View.Discharge);

        var rising = Watch(Falling(), 5, 400);
        Assert.Contains(rising.Screen.View.Banners, banner => banner.Kind == BannerKind.Alarm);
        Assert.Null(rising.Screen.View.Discharge);
    }

    [Fact]
    public void Under_the_limit_the_words_say_that_nothing_was_tested() =>
        Assert.Equal("Under the limit at this reading. Not a dead test.", Watch(Falling(), 10, 50).Screen.View.Discharge!.Verdict);

    [Fact]
    public void What_the_words_of_a_verdict_say_allows_nothing() => Assert.All(Enum.GetValues<DischargeVerdict>(), verdict =>
    {
        var words = Companion.Domain.Speaking.DischargeWording.OnScreen(verdict);
        Assert.DoesNotContain("safe", words, StringComparison.OrdinalIgnoreCase);
        Assert.Matches("wait goes on|Not a dead test|stand clear|Stand clear", words);
    });

    [Theory]
    [InlineData(400, 400, 100)]
    [InlineData(62, 80, 20)]
    [InlineData(1, 1, 0.2)]
    [InlineData(900, 1000, 200)]
    public void Volts_end_on_a_round_tick(double largest, double most, double step)
    {
        var scale = PlotScale.OfVolts(largest);
        Assert.Equal((most, step), (Math.Round(scale.Most, 9), Math.Round(scale.Step, 9)));
    }

    [Theory]
    [InlineData(24, 5)]
    [InlineData(200, 60)]
    [InlineData(7 * 3600, 2 * 3600)]
    public void Seconds_have_steps_that_a_clock_has(double most, double step) => Assert.Equal(new PlotScale(most, step), PlotScale.OfSeconds(most));

    private static ScreenBench AtFrontWait()
    {
        var screen = new ScreenBench(new JobBench().Open().Prepare().Until(NeedKind.OpenPoint, 2).Until(NeedKind.WaitOver));
        screen.Settle();
        return screen;
    }

    private static ScreenBench Falling() => Watch(Watch(Watch(AtFrontWait(), 0, 400), 10, 361.935), 10, 327.492);

    private static ScreenBench Watch(ScreenBench screen, int later, double volts)
    {
        screen.Bench.Pass(later);
        screen.Bench.Say(Phrase.Watching, volts.ToString(CultureInfo.InvariantCulture));
        screen.Screen.Turn();
        return screen;
    }
}
