using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>The limits of voltage in a job: the maker's under the ceiling, alternating voltage, and every pair of its own.</summary>
public sealed class LimitTests
{
    private static readonly WaitId Front = new("frontwait");

    // I1, I3
    [Theory]
    [InlineData("12.0", true)]
    [InlineData("12.1", false)]
    public void After_ten_minutes_the_makers_12_volts_decide_and_not_the_ceiling(string volts, bool passes)
    {
        var bench = At599Seconds();

        // Computed; 10 min: published repair manuals, as reported.
        Assert.Equal(1, Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead)).RemainingSeconds);
        bench.Time.Pass(Ticks.OfSeconds(1));
        bench.Do(new Tick());
        Assert.NotNull(bench.Job!.Waits[Front].CompletedAt); // computed

        bench.Read("230");
        bench.Read(volts);
        Assert.Equal(passes, bench.Job.Test is { Readings.Count: 1 }); // about 12 V: published repair manuals, as reported
        Assert.Equal(passes, bench.Job.Alarm is null); // the same
    }

    // I3
    [Theory]
    [InlineData("30.0", true)]
    [InlineData("30.1", false)]
    [InlineData("-30.1", false)]
    public void Alternating_voltage_is_dead_up_to_30_volts(string volts, bool passes)
    {
        var bench = new JobBench { Sheet = Van(pair => pair with { Kind = VoltageKind.Ac }) }.Open().Until(NeedKind.TakeReading);
        bench.Read(volts);
        Assert.Equal(passes, bench.Job!.Alarm is null); // ISO 6469-4:2015 5.2.2, UN R94, FMVSS 305, published: 30 V AC rms, equal passes
    }

    // I3
    [Theory]
    [InlineData("65", null, "six five volts, positive to chassis")]
    [InlineData("60", "62", "six two volts, negative to chassis")]
    public void Low_from_rail_to_rail_and_live_to_chassis_is_live(string positive, string? negative, string named)
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Read("3");
        bench.Read(positive);
        if (negative is not null)
        {
            bench.Read(negative);
        }

        // ISO 6469-4:2015 5.2.2, UN R94, FMVSS 305, published: each rail to chassis is held to the limit too; the readings are computed.
        Assert.Equal(AlarmKind.Live, bench.Job!.Alarm!.Kind);
        Assert.Contains(named, bench.Job.Alarm.Text, StringComparison.Ordinal); // the same
        Assert.Null(bench.Job.Test); // the same
    }

    private static JobBench At599Seconds()
    {
        var van = Van(pair => pair);
        var strict = van with { TestPlaces = [.. van.TestPlaces.Select(place => place with { LimitDc = Volts.Of(12) })] };
        var bench = new JobBench { Sheet = strict }.Open().Until(NeedKind.OpenPoint, 2).Until(NeedKind.WaitOver);
        var saying = Ticks.OfMilliseconds(10);
        var start = bench.Log.First(recorded => recorded.Event is WaitStarted { Wait: var wait } && wait == Front).Moment.Boot;
        var target = start + Ticks.OfSeconds(599) - saying;
        while (target - bench.Time.Now.Boot > Ticks.OfSeconds(1))
        {
            bench.Pass(1);
        }

        bench.Time.Pass(target - bench.Time.Now.Boot);
        return bench;
    }

    private static Sheet Van(Func<ProbePair, ProbePair> change)
    {
        var van = DemoSheets.Van(frontSeconds: 600);
        return van with { TestPlaces = [.. van.TestPlaces.Select(place => place with { Pairs = [.. place.Pairs.Select(change)] })] };
    }
}
