using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Reacting;
using Companion.Domain.Sheets;
using Companion.Domain.Speaking;
using Companion.Domain.Time;
using Companion.TestKit;
using Companion.TestKit.Walking;
using Companion.TestKit.Judging;

namespace Companion.Domain.Tests.Properties;

/// <summary>No dead ends, no silence, no words that must not be said.</summary>
public sealed class WayOutProperties
{
    // I22: never round in a loop.
    [Fact]
    public void Cannot_do_at_every_turn_always_ends_in_treat_as_live() => Walks.Hold(250, world =>
    {
        for (var turn = 0; turn < 60 && world.Job is { Ended: false, Halt: not { Final: true } }; turn++)
        {
            world.Pass(Ticks.OfMilliseconds(20));
            world.Do(world.Answer(Refusing(world.Job), world.Job.Question!.Code));
        }

        // At the work, and once everything is put back, no step is left that could not be done: there "hand over" is the way out.
        Oracle.Claim(world.Job is { Ended: true } or { Halt.Final: true } or { Question.Need.Kind: NeedKind.Working or NeedKind.CountTools or NeedKind.PutBack }, $"I22: {world.Job?.Question?.Need}");
    });

    // I22: whatever happened, a careful technician comes to clear to work or to a hand-over.
    [Fact]
    public void From_every_state_a_careful_technician_comes_to_an_end() => Walks.Hold(120, world =>
    {
        var walker = new Walker(world, 0, new Random(1));
        for (var step = 0; step < 900 && world.Job is { Ended: false, Question.Need.Kind: not NeedKind.Working }; step++)
        {
            if (Alone(world))
            {
                world.Pass(Ticks.OfMilliseconds(20));
                world.Do(world.Answer(Refusing(world.Job), world.Job.Question!.Code));
                continue;
            }

            walker.Right();
        }

        Oracle.Claim(world.Job is { Ended: true } or { Question.Need.Kind: NeedKind.Working }, $"I22: stuck at {world.Job?.Question}");
    });

    // I22, I8: hand over is open at every question once the sound check is done.
    [Fact]
    public void Hand_over_is_a_way_out_of_every_question() => Walks.Hold(150, world =>
    {
        if (world.Job is not { Ended: false, SoundChecked: true })
        {
            return;
        }

        for (var attempt = 0; attempt < 6 && world.Job is { Ended: false }; attempt++)
        {
            world.Pass(Ticks.OfSeconds(1));
            world.Do(world.Job.Question!.Echo is null
                ? world.Answer(Phrase.HandOver, null)
                : world.Answer(world.Job.Question.Echo.Phrase == Phrase.HandOver ? Phrase.AffirmCode : Phrase.Wrong, world.Job.Question.Code));
        }

        Oracle.Claim(world.Job is { Ended: true }, $"no hand-over at {world.Job?.Question}");
    });

    // I7, I13, I15: what is said is computed from any entry without a fault, and never says that word.
    [Fact]
    public void Something_can_be_said_about_every_entry_and_every_question() => Walks.Hold(250, world =>
    {
        var at = 0;
        Domain.Isolation.Job? job = null;
        foreach (var turn in world.Turns)
        {
            foreach (var happened in turn.Decision.Events)
            {
                var entry = world.Log[at++];
                job = Evolving.Evolve.Apply(job, happened, "job-1", entry.Sequence, entry.Moment)!;
                foreach (var said in React.To(job, happened, entry.Moment).OfType<Say>())
                {
                    Oracle.Claim(said.Text.Length > 0 && !said.Text.Contains("safe", StringComparison.OrdinalIgnoreCase), $"said: {said.Text}");
                }
            }

            if (turn.After is { Ended: false, Question: { } question } now)
            {
                Oracle.Claim(Wording.Ask(now, question).Length > 0, $"nothing is asked for {question.Need}");
                Oracle.Claim(question.Need.Kind == NeedKind.WaitOver || PhraseBook.Offered(question).Length > 0, $"no answer is offered to {question.Need}");
                var heard = PhraseBook.For(question).Select(form => form.Phrase).ToHashSet();
                Oracle.Claim(PhraseBook.Offered(question).All(heard.Contains), $"an offered answer is not listened for at {question.Need}");
                Oracle.Claim(heard.Contains(Phrase.Stop) && heard.Contains(Phrase.HelpMe), "stop is not listened for");
                _ = TimeCalls.Between(now, now.Clock.Counted, now.Clock.CountedAt(turn.Moment)).Count();
            }
        }
    });

    // I20, I21
    [Fact]
    public void A_sheet_is_pinned_once_and_a_voltage_beyond_it_stops_the_job() => Walks.Hold(200, world =>
    {
        Oracle.Claim(world.Log.Count(entry => entry.Event is SheetPinned) <= 1, "I21: pinned twice");
        foreach (var turn in world.Turns.Where(turn => turn.Decision.Events.OfType<ReadingTaken>().Any(Beyond)))
        {
            Oracle.Claim(turn.After is { Halt.Final: true, Proofs.IsEmpty: true, Clearance: null }, "I21: a voltage beyond the sheet did not stop the job");
        }
    });

    // I16, I19: stop, help and disturbances need no question and raise an alarm at once.
    [Fact]
    public void A_warning_takes_effect_at_any_question_without_being_asked() => Walks.Hold(200, world =>
    {
        foreach (var turn in world.Turns.Where(turn => turn is { Command: Answer answer, Before: { Ended: false } } && LosingWords.IsLosing(answer.Phrase)))
        {
            Oracle.Claim(turn.Decision is Accepted && turn.After is { Alarm: not null, Clearance: null } or { Alarm.Kind: Domain.Isolation.AlarmKind.Help }, "I16: a warning was not taken");
        }
    });

    [Fact]
    public void Random_sheets_are_sound() => CsCheck.Check.Sample(CsCheck.Gen.Int[0, 1_000_000], seed =>
    {
        var faults = SheetRules.Faults(RandomSheet.Of(seed));
        Oracle.Claim(faults.Count == 0, string.Join('\n', faults));
    }, iter: 300);

    private static bool Beyond(ReadingTaken taken) => (taken.Volts ?? taken.Below)?.Magnitude > Domain.Electrical.Volts.Of(800);

    private static bool Alone(World world) => world.Job is { HasSecondPerson: false, CurrentStep.Exposes: true, Alarm: null, Halt: null, Doubt: false }
        && world.Job.Question!.Code is null && world.Job.Question.Need.Kind is not (NeedKind.WaitOver or NeedKind.CheckKit or NeedKind.HandOver);

    private static Phrase Refusing(Domain.Isolation.Job job) => job.Question!.Need.Kind switch
    {
        NeedKind.SoundCheck => Phrase.AffirmCode,
        NeedKind.AlarmHeard => Phrase.Affirm,
        NeedKind.InabilityReason => Phrase.CannotReach,
        NeedKind.TakeWay or NeedKind.GoOn or NeedKind.NothingTouched when job.Question.Echo is not null => Phrase.AffirmCode,
        _ when job.Question.Echo is not null => Phrase.Wrong,
        NeedKind.TakeWay => Phrase.OtherWay,
        NeedKind.GoOn or NeedKind.NothingTouched => RightAnswer.To(job).Phrase,
        _ => Phrase.CannotDo,
    };
}
