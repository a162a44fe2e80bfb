using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;
using CsCheck;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>
/// The two rules of the watch against what a person with a clock and a list would note (I10, I11): beats that come honest, doubled,
/// delayed and out of order, check-ins of any age, looks at any time, kills and acts, in any order.
/// </summary>
public sealed class WatchProperties
{
    /// <summary>Few on every run; COMPANION_WATCH_RUNS asks for more.</summary>
    private static readonly int Iterations = int.TryParse(Environment.GetEnvironmentVariable("COMPANION_WATCH_RUNS"), out var runs) ? runs : 40;

    private const int Interval = 300;
    private const int Margin = 60;
    private const int Grace = 30;
    private const int Silence = 60;

    private enum Step
    {
        Look,
        Beat,
        CheckIn,
        LateCheckIn,
        OldBeat,
        ShortRestart,
        LongRestart,
        Take,
    }

    private static readonly Gen<(Step Step, int Tenths, int Choice)> AnyStep = Gen.Select(
        Gen.Frequency(
            (4, Gen.Const(Step.Look)), (6, Gen.Const(Step.Beat)), (3, Gen.Const(Step.CheckIn)), (1, Gen.Const(Step.LateCheckIn)),
            (2, Gen.Const(Step.OldBeat)), (1, Gen.Const(Step.ShortRestart)), (1, Gen.Const(Step.LongRestart)), (1, Gen.Const(Step.Take))),
        Gen.OneOf(Gen.Int[1, 100], Gen.Int[400, 700], Gen.Int[1, 4000]),
        Gen.Int[0, 1000]);

    [Fact]
    public async Task Overdue_is_raised_once_for_each_missed_check_in_never_early_and_never_after_the_next_look() =>
        await AnyStep.Array[1, 40].SampleAsync(async steps =>
        {
            var run = new Run();
            await run.Through(steps);
        }, iter: Iterations);

    /// <summary>The keeper beside the list.</summary>
    private sealed class Run
    {
        private readonly List<long> sent = [];
        private readonly HashSet<string> expected = [];
        private WatchBench bench = null!;
        private double now;
        private double lastWatched;
        private double lastBeat;
        private double graceUntil;
        private long sequence;
        private long kept;
        private long epoch;
        private double checkedInAt;
        private double overdueFrom = double.MaxValue;
        private long silences;
        private bool isSilent = true;

        public async Task Through((Step Step, int Tenths, int Choice)[] steps)
        {
            await using (bench = await WatchBench.Start())
            {
                foreach (var (step, tenths, choice) in steps)
                {
                    await Do(step, tenths / 10.0, choice);
                    Check(step);
                }

                now += Interval + Margin + Silence + Grace;
                await Do(Step.Look, 0, 0);
                Check(Step.Look);
            }
        }

        private async Task Do(Step step, double wait, int choice)
        {
            switch (step)
            {
                case Step.Look:
                    Pass(wait);
                    await bench.Pulse(now);
                    lastWatched = now;
                    break;
                case Step.Beat:
                    await Receive(wait, Math.Max(1, sequence), age: now + wait - checkedInAt);
                    break;
                case Step.CheckIn:
                    sequence += 1 + (choice % 3);
                    await Receive(wait, sequence, age: choice % (Interval + Margin));
                    break;
                case Step.LateCheckIn:
                    sequence++;
                    await Receive(wait, sequence, age: Interval + Margin + choice);
                    break;
                case Step.OldBeat when sent.Count > 0:
                    await Receive(wait, sent[choice % sent.Count], age: choice);
                    break;
                case Step.ShortRestart:
                    await bench.Pulse(now);
                    await Restart(1.5, choice % 2 == 0);
                    break;
                case Step.LongRestart:
                    await bench.Pulse(now);
                    await Restart(3 + wait, choice % 2 == 0);
                    break;
                case Step.Take when bench.Alerts.Length > 0:
                    await bench.Keeper.TakeAsync(bench.Alerts[choice % bench.Alerts.Length].Id, "Ilka Brandt", "seen to");
                    break;
            }
        }

        private void Pass(double wait)
        {
            now = Math.Round(now + wait, 1);
            if (overdueFrom != double.MaxValue && now >= Math.Max(overdueFrom, graceUntil))
            {
                expected.Add($"overdue:van-1:job-1:{epoch}");
            }

            if (!isSilent && now >= Math.Max(Math.Round(lastBeat + Silence, 1), graceUntil))
            {
                silences++;
                isSilent = true;
                expected.Add($"silent:van-1:job-1:{silences}");
            }
        }

        private async Task Receive(double wait, long stated, double age)
        {
            Pass(wait);
            age = Math.Round(age, 1);
            sequence = Math.Max(sequence, stated);
            sent.Add(stated);
            var before = bench.Watch;
            var answer = await bench.Send(now, WatchBench.BeatOf(stated, age, Interval, Margin));
            (lastBeat, isSilent) = (now, false);
            if (stated <= kept)
            {
                Assert.Equal((before!.Due, before.OverdueFrom, before.CheckIn), (bench.Watch!.Due, bench.Watch.OverdueFrom, bench.Watch.CheckIn));
                Assert.Equal(kept, answer.CheckIn);
                return;
            }

            Assert.Equal(stated, answer.CheckIn);
            checkedInAt = Math.Round(kept == 0 ? now - age : Math.Max(checkedInAt, now - age), 1);
            var isTaken = bench.Alerts.Any(alert => alert.Id == $"overdue:van-1:job-1:{epoch}" && alert.Taken is not null);
            if (age < Interval + Margin || kept == 0 || isTaken)
            {
                (epoch, overdueFrom) = (stated, Math.Round(checkedInAt + Interval + Margin, 1));
            }

            kept = stated;
        }

        private async Task Restart(double down, bool isKilled)
        {
            // Closed in order, the watch room marks its last moment; killed, the last mark was made when a second was over.
            lastWatched = now;
            var end = Math.Round(now + down, 1);
            await bench.Restart(end, isKilled);
            var blind = bench.Keeper.View.Blind;
            if (down > 2)
            {
                graceUntil = GraceAfter(blind[^1], end);
                Assert.Equal(WatchBench.At(end), blind[^1].To);
                Assert.InRange(blind[^1].From, WatchBench.At(lastWatched - 1), WatchBench.At(lastWatched));
            }
            else if (blind.Length > 0 && blind[^1].To == WatchBench.At(end))
            {
                // Up to a second was not marked yet: a downtime just under the limit may count as one.
                graceUntil = GraceAfter(blind[^1], end);
            }

            now = end;
        }

        /// <summary>A grace that was interrupted goes on with what was left of it.</summary>
        private double GraceAfter(BlindPeriod blind, double end)
        {
            var from = (blind.From - SettableTime.Zero).TotalSeconds;
            return Math.Round(end + (from < graceUntil ? Math.Min(Grace, graceUntil - from) : Grace), 3);
        }

        private void Check(Step step)
        {
            Pass(0);
            var alerts = bench.Alerts;
            if (step is Step.Look)
            {
                Assert.Equal(expected.Order(), alerts.Select(alert => alert.Id).Order());
            }

            Assert.All(alerts, alert => Assert.Contains(alert.Id, expected));
            Assert.Equal(alerts.Length, alerts.Select(alert => alert.Id).Distinct().Count());
            Assert.All(alerts, alert => Assert.True(alert.Raised <= WatchBench.At(now)));
        }
    }
}
