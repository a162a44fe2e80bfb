using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Domain.Reacting;
using Companion.Domain.Time;
using Companion.TestKit;
using Companion.TestKit.Judging;
using CsCheck;

namespace Companion.Domain.Tests.Isolation;

/// <summary>Watching readings in a job: they may void and warn, and do nothing else (I1, I3, I5).</summary>
public sealed class WatchingTests
{
    private static readonly WaitId Front = new("frontwait");
    private static readonly WaitId Rear = new("rearwait");

    // 400 V, 100 kohm, 1 000 uF: 60 V after 189.712 s, computed; the front wait takes 300 s.
    [Fact]
    public void Readings_that_fall_as_expected_change_nothing_and_the_wait_ends_at_its_own_time()
    {
        var bench = AtFrontWait();
        var before = bench.Job!.Waits;
        for (var second = 0; second <= 60; second += 15)
        {
            Watch(bench, Math.Round(400 * Math.Exp(-second / 100.0)));
            bench.Pass(15);
        }

        Assert.Equal(DischargeVerdict.FallingAsExpected, Watching.FindingOf(bench.Job)!.Verdict);
        Assert.Equal(5, bench.Job.Watched.Length);
        Assert.Equal(before, bench.Job.Waits);
        Assert.Equal(0, bench.Count<WaitVoided>() + bench.Count<AlertRaised>());

        var run = bench.Job.Waits[Front];
        while (bench.Job.Waits[Front].CompletedAt is null)
        {
            bench.Pass(1);
        }

        var waited = bench.Job.Clock.Counted - run.StartedCounted;
        Assert.InRange(waited.Nanoseconds, Ticks.OfSeconds(300).Nanoseconds, Ticks.OfSeconds(301).Nanoseconds);
    }

    [Fact]
    public void A_reading_that_falls_as_expected_is_told_and_allows_nothing()
    {
        var bench = AtFrontWait();
        Watch(bench, 400);
        Assert.Empty(Said(bench));
        Watch(bench.Pass(10), 362);
        Assert.Empty(Said(bench));
        Watch(bench.Pass(10), 327);
        Assert.Equal("Falling, three two seven volts. The wait goes on.", Assert.Single(Said(bench)).Text);
    }

    [Fact]
    public void Readings_that_do_not_fall_void_the_waits_of_the_place_which_begin_again()
    {
        var bench = AtFrontWait();
        var rear = bench.Job!.Waits[Rear];
        var started = bench.Job.Waits[Front].StartedAt;
        WatchThree(bench, 400, 400, 399);

        Assert.All(Recent<WaitVoided>(bench), voided => Assert.Equal("the voltage does not fall", voided.Reason));
        Assert.Equal(["control", "front"], Recent<WaitVoided>(bench).Select(voided => voided.Circuit.Value).Order());
        Assert.True(bench.Job.Waits[Front].StartedAt > started);
        Assert.Equal(Ticks.OfSeconds(300), bench.Job.Waits[Front].Remaining(bench.Job.Clock.Counted));
        Assert.Equal(rear, bench.Job.Waits[Rear]); // I5: what is not touched goes on
        Assert.Equal(AlarmKind.Live, bench.Job.Alarm!.Kind);
        Assert.StartsWith("Live and not falling. Hands off, stand clear. A contactor may be welded, or a source is still connected.", bench.Job.Alarm.Text, StringComparison.Ordinal);
        Assert.Empty(bench.Job.Watched);
    }

    // 3 V, later 64 V, computed.
    [Theory]
    [InlineData(64, AlarmKind.Live)]
    [InlineData(6, AlarmKind.Void)]
    public void A_reading_that_rises_voids_at_once_and_says_whether_it_is_live(double later, AlarmKind kind)
    {
        var bench = AtFrontWait();
        var started = bench.Job!.Waits[Front].StartedAt;
        Watch(bench, 3);
        Watch(bench.Pass(2), later);

        Assert.True(bench.Job.Waits[Front].StartedAt > started);
        Assert.Equal(kind, bench.Job.Alarm!.Kind);
        Assert.StartsWith($"{kind} and rising. Hands off, stand clear.", bench.Job.Alarm.Text, StringComparison.Ordinal);
    }

    // 800 V with tau 381 s (3 mF, 127 kohm: the slowest of the published range) is at 60 V after 987 s, computed.
    [Fact]
    public void Readings_that_fall_too_slowly_void_the_waits_and_warn()
    {
        var bench = AtFrontWait();
        var started = bench.Job!.Waits[Front].StartedAt;
        WatchThree(bench, 800, 779, 759);

        Assert.True(bench.Job.Waits[Front].StartedAt > started);
        Assert.All(Recent<WaitVoided>(bench), voided => Assert.Equal("falls too slowly", voided.Reason));
        Assert.Equal(AlarmKind.Void, bench.Job.Alarm!.Kind);
        Assert.StartsWith("Void, falls too slowly. Stand clear.", bench.Job.Alarm.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void After_a_void_the_series_begins_anew_and_the_same_warning_stands_once()
    {
        var bench = AtFrontWait();
        WatchThree(bench, 400, 400, 400);
        Watch(bench.Pass(1), 400);
        Watch(bench.Pass(1), 400);
        Assert.Equal(1, bench.Count<AlertRaised>());
        bench.Pass(20);
        Watch(bench, 400);
        Assert.Equal(2, bench.Count<AlertRaised>());
        Assert.Single(bench.Job!.Alarms);
    }

    // I2: what happened in a gap is not known.
    [Fact]
    public void A_gap_makes_the_earlier_readings_worthless()
    {
        var bench = AtFrontWait();
        Watch(bench, 400);
        Watch(bench.Pass(10), 400);
        bench.Time.Sleep(Ticks.OfSeconds(60));
        bench.Do(new Tick());
        Assert.Empty(bench.Job!.Watched);
        bench.Claim(Phrase.NothingTouched);
        Watch(bench, 400);
        Assert.Single(bench.Job.Watched);
        Assert.Equal(0, bench.Count<AlertRaised>());
    }

    [Fact]
    public void A_restart_and_a_disturbance_make_them_worthless_too()
    {
        var bench = AtFrontWait();
        Watch(bench, 400);
        bench.Do(new Restarted());
        Assert.Empty(bench.Job!.Watched);
        bench.Claim(Phrase.NothingTouched);
        Watch(bench, 400);
        bench.Say(Phrase.ChargerConnected); // its rule names the rear circuit only
        Assert.Empty(bench.Job.Watched);
    }

    [Fact]
    public void A_reading_from_before_the_waits_of_its_place_is_not_kept()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        Watch(bench, 400);
        Assert.Empty(bench.Job!.Watched);
        Assert.Equal(ReadingPurpose.Watching, bench.LastOf<ReadingTaken>().Purpose);
    }

    // I1: the proof of the front rests on the control units' wait, which the rear place covers too.
    [Fact]
    public void A_void_takes_the_proofs_that_rest_on_the_same_wait()
    {
        var bench = new JobBench().Open().Until(NeedKind.CoverLiveSide);
        Assert.Equal(2, bench.Job!.Proofs.Count);
        bench = new JobBench().Open().Until(NeedKind.WaitOver);
        while (bench.Job!.Proofs.Count == 0)
        {
            bench.AnswerRightly();
        }

        Assert.Equal("rearlink", Watching.PlaceOf(bench.Job)!.Id.Value);
        WatchThree(bench, 400, 400, 400);
        Assert.Empty(bench.Job.Proofs);
        Assert.Equal(2, Recent<WaitVoided>(bench).Count());
    }

    [Fact]
    public void What_is_kept_has_an_end()
    {
        var bench = AtFrontWait();
        for (var reading = 0; reading < Watched.MostKept + 20; reading++)
        {
            Watch(bench, 12);
        }

        Assert.Equal(Watched.MostKept, bench.Job!.Watched.Length);
        Assert.Equal(0, bench.Count<WaitVoided>());
    }

    [Fact]
    public void Two_readings_at_the_same_moment_are_one()
    {
        var bench = AtFrontWait();
        var answer = new Answer { Question = bench.Job!.Question!.Sequence, Began = bench.Time.Now, By = By.Touch, Phrase = Phrase.Watching, Number = "400" };
        bench.Do(answer);
        bench.Do(answer);
        Assert.Single(bench.Job.Watched);
    }

    // I13
    [Fact]
    public void A_replay_gives_the_same_readings_and_the_same_finding()
    {
        var bench = AtFrontWait();
        WatchThree(bench, 400, 362, 327);
        Job? folded = null;
        foreach (var entry in bench.Log)
        {
            folded = Evolve.Apply(folded, entry.Event, "job-1", entry.Sequence, entry.Moment with { Awake = Ticks.Zero });
        }

        Assert.Equal(JobText.Of(bench.Job), JobText.Of(folded));
        Assert.Equal(Watching.FindingOf(bench.Job!), Watching.FindingOf(folded!));
        Assert.Equal(3, folded!.Watched.Length);
    }

    // I1: twice the same job, second by second; only one of them is watched.
    [Fact]
    public void Watching_readings_never_make_a_wait_end_earlier_nor_a_claim_succeed_that_would_not() =>
        Gen.Select(Gen.Int[1, 40], Gen.Int[0, 3], Gen.Double[3, 800]).Array[1, 25].Sample(
            steps =>
            {
                var (watched, plain) = (AtFrontWait(), AtFrontWait());
                var volts = 700.0;
                foreach (var (seconds, manner, jump) in steps)
                {
                    volts = manner switch { 0 => jump, 1 => volts, _ => volts * Math.Exp(-seconds / 90.0) };
                    watched.Pass(seconds);
                    plain.Pass(seconds);
                    Watch(watched, Math.Round(volts));
                    Meanwhile(plain);
                    if (watched.Job!.Alarm is not null)
                    {
                        watched.Say(Phrase.Affirm);
                        Meanwhile(plain);
                    }

                    Assert.All(plain.Job!.Waits, wait => Assert.True(LeftOf(watched, wait.Key) >= LeftOf(plain, wait.Key), $"{wait.Key} ends earlier"));
                    Assert.IsType<Refused>(watched.Say(Phrase.ProvedDead));
                    Assert.IsType<Refused>(plain.Say(Phrase.ProvedDead));
                }

                Assert.True(CountedAtProof(watched) >= CountedAtProof(plain), "proved dead earlier");
            },
            iter: 100);

    private static Ticks LeftOf(JobBench bench, WaitId wait) =>
        bench.Job!.Waits.TryGetValue(wait, out var run) ? run.Remaining(bench.Job.Clock.CountedAt(bench.Time.Now)) : Ticks.OfSeconds(long.MaxValue / Ticks.PerSecond);

    /// <summary>The other says something that takes as long.</summary>
    private static void Meanwhile(JobBench bench)
    {
        bench.Time.Pass(Ticks.OfMilliseconds(10));
        bench.Do(new Tick());
    }

    /// <summary>Goes on rightly to the first proof.</summary>
    private static Ticks CountedAtProof(JobBench bench)
    {
        while (bench.Job!.Proofs.IsEmpty)
        {
            bench.AnswerRightly();
        }

        return bench.Job.Clock.Counted;
    }

    private static JobBench AtFrontWait() => new JobBench().Open().Until(NeedKind.OpenPoint, 2).Until(NeedKind.WaitOver);

    private static void Watch(JobBench bench, double volts) =>
        Assert.IsType<Accepted>(bench.Say(Phrase.Watching, volts.ToString(System.Globalization.CultureInfo.InvariantCulture)));

    private static void WatchThree(JobBench bench, double first, double second, double third)
    {
        Watch(bench, first);
        Watch(bench.Pass(10), second);
        Watch(bench.Pass(10), third);
    }

    private static IEnumerable<T> Recent<T>(JobBench bench)
        where T : JobEvent => bench.Last.Events.OfType<T>();

    /// <summary>What is said of the last reading.</summary>
    private static IEnumerable<Say> Said(JobBench bench) => React.To(bench.Job!, bench.Last.Events.OfType<ReadingTaken>().Single(), bench.Time.Now).OfType<Say>();
}
