using CsCheck;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.TestKit;
using Companion.TestKit.Judging;
using Companion.TestKit.Walking;

namespace Companion.Domain.Tests.Properties;

/// <summary>Random jobs that are watched over, through sleep, restarts, clock changes and everything that goes wrong (I10).</summary>
public sealed class CheckInProperties
{
    private static World Live(Walk walk)
    {
        var world = new World(walk.Sheet < 0 ? DemoSheets.Van() : RandomSheet.Of(walk.Sheet)) { Watch = DemoWatch.ByPhase() };
        world.Open(false, walk.Seed % 3 == 0 ? null : "Marit");
        var random = new Random(walk.Seed);
        var walker = new Walker(world, walk.Chaos, random);
        for (var step = 0; step < walk.Steps && world.Job is not { Ended: true }; step++)
        {
            if (random.Next(12) == 0)
            {
                world.Do(world.Answer(random.Next(4) == 0 ? Phrase.StatusAllRight : Phrase.AllRight, null) with
                {
                    By = (By)random.Next(3), Held = Ticks.OfMilliseconds(random.Next(2000)),
                });
            }
            else
            {
                walker.Step(random);
            }
        }

        return world;
    }

    [Fact]
    public void A_deadline_is_never_missed_never_extended_and_raised_once() =>
        Walks.Any.Sample(walk => Hold(Live(walk)), iter: Math.Max(1, (long)(500 * Walks.Scale)), print: walk => walk.ToString());

    private static void Hold(World world)
    {
        var watcher = new Watcher();
        foreach (var turn in world.Turns)
        {
            watcher.Take(turn, world.Log.Skip(turn.LogBefore).Take(turn.Decision.Events.Length));
        }
    }

    /// <summary>Keeps the deadline by the entries alone, in a measure of its own.</summary>
    private sealed class Watcher
    {
        private Ticks _full;
        private Moment? _last;
        private Ticks _due;
        private int _margin;
        private bool _raised;
        private Ticks _made;

        public void Take(Turned turn, IEnumerable<Witnessed> entries)
        {
            foreach (var entry in entries)
            {
                _full += Since(entry.Moment);
                _last = entry.Moment;
                Take(entry.Event, turn);
            }

            if (turn.After is not { Ended: false } job)
            {
                return;
            }

            var now = _full + Since(turn.Moment);
            Assert.True(!_raised || now >= _due + Ticks.OfSeconds(_margin) || _margin == 0, "an alert stands without its deadline having passed");
            Assert.True(_raised || now < _due + Ticks.OfSeconds(_margin) || turn.Command is Answer, $"a check-in due at {_due} was missed at {now}");
            Assert.Equal(_due, job.CheckIn!.Due);
            Assert.Equal(_raised, job.CheckIn.Stage == CheckInStage.Unanswered);
        }

        private void Take(JobEvent happened, Turned turn)
        {
            switch (happened)
            {
                case JobOpened { Watch: { } policy } opened:
                    var times = policy.Of(WorkPhase.Travelling);
                    (_due, _margin) = (Ticks.OfSeconds(opened.SecondPerson is null ? times.AloneSeconds : times.IntervalSeconds), times.MarginSeconds);
                    break;
                case CheckInMade made:
                    Assert.True(turn.Command is Answer { Phrase: Phrase.AllRight or Phrase.StatusAllRight } answer && (answer.By != By.Touch || answer.IsHold));
                    Assert.True(made.Made <= _full && made.Made >= _made && made.Due == made.Made + Ticks.OfSeconds(made.IntervalSeconds));
                    (_due, _margin, _raised, _made) = (made.Due, made.MarginSeconds, false, made.Made);
                    break;
                case CheckInSooner sooner:
                    Assert.True(sooner.Due <= _due && sooner.Due + Ticks.OfSeconds(sooner.MarginSeconds) < _due + Ticks.OfSeconds(_margin), "extended");
                    (_due, _margin) = (sooner.Due, sooner.MarginSeconds);
                    break;
                case CheckInUnanswered:
                    Assert.False(_raised, "raised twice");
                    Assert.True(_full >= _due + Ticks.OfSeconds(_margin), "raised too early");
                    _raised = true;
                    break;
            }
        }

        private Ticks Since(Moment moment)
        {
            if (_last is not { } last)
            {
                return Ticks.Zero;
            }

            var since = moment.BootId == last.BootId ? moment.Boot - last.Boot : new Ticks((moment.Wall - last.Wall).Ticks * 100);
            return since < Ticks.Zero ? Ticks.Zero : since;
        }
    }
}
