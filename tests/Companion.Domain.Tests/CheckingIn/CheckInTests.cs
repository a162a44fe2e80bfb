using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.CheckingIn;

/// <summary>The watch over a lone worker (I10).</summary>
public sealed class CheckInTests
{
    private const int Interval = 900;
    private const int Margin = 120;

    private static int Unanswered(JobBench bench) => bench.Log.Count(entry => entry.Event is CheckInUnanswered);

    private static CheckInWatch Watch(JobBench bench) => bench.Job!.CheckIn!;

    /// <summary>A job whose last check-in was made 1 000 s after it was opened.</summary>
    private static JobBench AnsweredAt1000(CheckInPolicy? policy = null)
    {
        var bench = new JobBench { Watch = policy ?? DemoWatch.Even(Interval, Margin) }.Open();
        PassTo(bench, 1000);
        Assert.IsType<Accepted>(CheckIn(bench));
        return bench;
    }

    private static Ticks At(JobBench bench) => bench.Time.Now.Boot - Ticks.OfSeconds(100);

    private static void PassTo(JobBench bench, long second)
    {
        while (At(bench) < Ticks.OfSeconds(second))
        {
            bench.Time.Pass(Ticks.OfSeconds(1));
            bench.Do(new Tick());
        }
    }

    private static Decision CheckIn(JobBench bench, Phrase phrase = Phrase.AllRight, By by = By.Voice, Ticks held = default) =>
        bench.Do(new Answer { Question = 0, Began = bench.Time.Now, By = by, Phrase = phrase, Held = held });

    // Worked example: suspend-aware clock, interval 900 s, margin 120 s, last answer at 1 000 s. 1 899 quiet, 1 900 prompt, 2 019 still
    // prompting, 2 020 once (check-values, section 8).
    [Fact]
    public void Worked_example_of_a_missed_check_in()
    {
        var bench = AnsweredAt1000();
        PassTo(bench, 1899);
        Assert.Equal(CheckInStage.Quiet, Watch(bench).Stage);
        PassTo(bench, 1900);
        Assert.Equal(CheckInStage.Due, Watch(bench).Stage);
        PassTo(bench, 2019);
        Assert.Equal((CheckInStage.Due, 0), (Watch(bench).Stage, Unanswered(bench)));
        PassTo(bench, 2020);
        Assert.Equal((CheckInStage.Unanswered, 1), (Watch(bench).Stage, Unanswered(bench)));
        PassTo(bench, 2400);
        Assert.Equal(1, Unanswered(bench));
    }

    // The same example: an answer at 2 019 makes the next due at 2 919.
    [Fact]
    public void Worked_example_of_an_answer_in_the_margin()
    {
        var bench = AnsweredAt1000();
        PassTo(bench, 2019);
        CheckIn(bench);
        Assert.Equal(Ticks.OfSeconds(2919), Watch(bench).Due);
        PassTo(bench, 2918);
        Assert.Equal(CheckInStage.Quiet, Watch(bench).Stage);
        PassTo(bench, 2919);
        Assert.Equal(CheckInStage.Due, Watch(bench).Stage);
    }

    // The same example: asleep from 1 100 to 2 500, escalated on wake.
    [Fact]
    public void Worked_example_of_a_sleep_through_the_deadline()
    {
        var bench = AnsweredAt1000();
        PassTo(bench, 1100);
        bench.Time.Sleep(Ticks.OfSeconds(1400));
        bench.Do(new Tick());
        Assert.Equal((CheckInStage.Unanswered, 1), (Watch(bench).Stage, Unanswered(bench)));
    }

    // The same example: the wall clock goes back one hour, no effect.
    [Theory]
    [InlineData(-1)]
    [InlineData(1)]
    [InlineData(9000)]
    public void A_wall_clock_that_is_set_moves_no_deadline(int hours)
    {
        var bench = AnsweredAt1000();
        bench.Time.StepWall(TimeSpan.FromHours(hours));
        PassTo(bench, 1899);
        Assert.Equal(CheckInStage.Quiet, Watch(bench).Stage);
        PassTo(bench, 1900);
        Assert.Equal(CheckInStage.Due, Watch(bench).Stage);
    }

    [Fact]
    public void A_process_that_was_down_comes_back_to_the_deadline_in_full()
    {
        var bench = AnsweredAt1000();
        bench.Time.Pass(Ticks.OfSeconds(1019));
        bench.Do(new Restarted());
        Assert.Equal(CheckInStage.Due, Watch(bench).Stage);
        PassTo(bench, 2020);
        Assert.Equal(1, Unanswered(bench));
    }

    [Fact]
    public void A_tablet_that_was_off_counts_what_the_wall_clock_says_in_full()
    {
        var bench = AnsweredAt1000();
        bench.Time.Pass(Ticks.OfSeconds(1100));
        bench.Time.Reboot();
        bench.Do(new Restarted());
        Assert.Equal(1, Unanswered(bench));
    }

    // The wall clock says that no time passed, or less than none: nobody knows, so it is asked at once and the margin begins.
    [Fact]
    public void A_tablet_that_was_off_with_a_clock_that_went_back_asks_at_once()
    {
        var bench = AnsweredAt1000();
        bench.Time.Reboot();
        bench.Time.StepWall(TimeSpan.FromDays(-300));
        bench.Do(new Restarted());
        Assert.Equal((CheckInStage.Due, 0), (Watch(bench).Stage, Unanswered(bench)));
        bench.Pass(Margin);
        Assert.Equal(1, Unanswered(bench));
    }

    [Fact]
    public void It_is_asked_for_before_it_is_due_once_and_again_when_it_is()
    {
        var bench = AnsweredAt1000(DemoWatch.Even(Interval, Margin, 60));
        PassTo(bench, 1839);
        Assert.Equal(CheckInStage.Quiet, Watch(bench).Stage);
        PassTo(bench, 1900);
        Assert.Equal(
            [CheckInStage.Asked, CheckInStage.Due],
            bench.Log.Where(entry => entry.Moment.Boot > Ticks.OfSeconds(1150)).Select(entry => entry.Event).OfType<CheckInAsked>().Select(asked => asked.Stage));
    }

    [Fact]
    public void A_check_in_counts_from_when_it_began()
    {
        var bench = AnsweredAt1000();
        PassTo(bench, 1950);
        var began = bench.Time.Now;
        bench.Time.Pass(Ticks.OfSeconds(5));
        bench.Do(new Answer { Question = 0, Began = began, By = By.Voice, Phrase = Phrase.AllRight });
        Assert.Equal(Ticks.OfSeconds(2850), Watch(bench).Due);
    }

    [Fact]
    public void A_check_in_that_claims_to_be_of_another_running_period_moves_nothing()
    {
        var bench = AnsweredAt1000();
        PassTo(bench, 1500);
        bench.Do(new Answer { Question = 0, Began = bench.Time.Now with { BootId = "another" }, By = By.Voice, Phrase = Phrase.AllRight });
        Assert.Equal(Ticks.OfSeconds(1900), Watch(bench).Due);
    }

    [Fact]
    public void Nothing_else_that_is_said_is_a_check_in()
    {
        var bench = AnsweredAt1000();
        PassTo(bench, 1500);
        foreach (var phrase in Enum.GetValues<Phrase>().Where(phrase => phrase is not (Phrase.AllRight or Phrase.StatusAllRight)))
        {
            bench.Say(phrase, "47");
        }

        Assert.Equal(Ticks.OfSeconds(1000), Watch(bench).Made);
        Assert.True(Watch(bench).Due <= Ticks.OfSeconds(1900));
    }

    [Fact]
    public void A_touch_must_be_held()
    {
        var bench = AnsweredAt1000();
        PassTo(bench, 1500);
        Assert.IsType<Refused>(CheckIn(bench, by: By.Touch, held: Ticks.OfMilliseconds(300)));
        Assert.Equal(Ticks.OfSeconds(1900), Watch(bench).Due);
        Assert.IsType<Accepted>(CheckIn(bench, by: By.Touch, held: Answer.DeliberateHold));
        Assert.Equal(Ticks.OfSeconds(2400), Watch(bench).Due);
    }

    [Fact]
    public void A_check_in_answers_no_question_and_takes_no_alarm()
    {
        var bench = new JobBench { Watch = DemoWatch.Even() }.Open().Prepare().Until(NeedKind.OpenPoint);
        bench.Say(Phrase.Stop);
        var (question, alarms) = (bench.Job!.Question, bench.Job.Alarms);
        CheckIn(bench);
        Assert.Equal((question, alarms.Length), (bench.Job!.Question, bench.Job.Alarms.Length));
    }

    [Fact]
    public void Without_an_arrangement_a_check_in_is_refused_and_nothing_is_asked()
    {
        var bench = new JobBench().Open();
        bench.Pass(4000);
        Assert.IsType<Refused>(CheckIn(bench));
        Assert.DoesNotContain(bench.Log, entry => entry.Event is CheckInMade or CheckInAsked or CheckInUnanswered);
    }

    [Fact]
    public void A_phase_with_a_shorter_interval_acts_at_once_and_a_longer_one_with_the_next_check_in()
    {
        var bench = new JobBench { Watch = DemoWatch.ByPhase() }.Open();
        Assert.Equal(WorkPhase.Travelling, Watch(bench).Phase);
        bench.Until(NeedKind.ChooseSheet);
        bench.Do(new Tick());
        Assert.Equal((WorkPhase.Triage, Ticks.OfSeconds(600)), (Watch(bench).Phase, Watch(bench).Due));
        bench.Until(NeedKind.OpenPoint, 2);
        bench.Do(new Tick());
        Assert.Equal((WorkPhase.Exposed, Ticks.OfSeconds(400)), (Watch(bench).Phase, Watch(bench).Due));

        bench.Until(NeedKind.WaitOver);
        Assert.Equal(WorkPhase.Watching, WorkPhases.Of(bench.Job!));
        var before = Watch(bench);
        bench.Do(new Tick());
        Assert.Equal(before.Due, Watch(bench).Due);
        CheckIn(bench);
        Assert.Equal(Watch(bench).Made + Ticks.OfSeconds(900), Watch(bench).Due);
    }

    // I10: after a long drive, or a wait with the hands off, the shorter interval had passed already.
    [Fact]
    public void A_shorter_phase_raised_the_alert_before_anybody_had_been_asked()
    {
        var bench = new JobBench { Watch = DemoWatch.ByPhase() }.Open();
        PassTo(bench, 1000);
        bench.Until(NeedKind.ChooseSheet);
        bench.Pass(2);
        Assert.Equal((CheckInStage.Due, 0), (Watch(bench).Stage, Unanswered(bench)));
        var asked = Watch(bench);
        Assert.Equal(asked.Due.SecondsRoundedUp, asked.IntervalSeconds);
        Assert.InRange(asked.Overdue.Seconds, 1120, 1121);
        bench.Pass(120);
        Assert.Equal(1, Unanswered(bench));
    }

    [Fact]
    public void A_shorter_phase_never_puts_off_the_deadline_that_stood()
    {
        var bench = new JobBench { Watch = DemoWatch.ByPhase() }.Open();
        PassTo(bench, 1450);
        bench.Until(NeedKind.ChooseSheet);
        Assert.Equal(Ticks.OfSeconds(1500), Watch(bench).Overdue);
        PassTo(bench, 1501);
        Assert.Equal(1, Unanswered(bench));
    }

    // I23: who is left alone is asked after more often.
    [Fact]
    public void Being_left_alone_shortens_the_interval_at_once()
    {
        var bench = new JobBench { Watch = DemoWatch.ByPhase() }.Open().Until(NeedKind.ChooseSheet);
        bench.Do(new Tick());
        bench.Say(Phrase.PersonLeft, "31");
        bench.Do(new Tick());
        Assert.Equal((400, Ticks.OfSeconds(400)), (Watch(bench).IntervalSeconds, Watch(bench).Due));
    }

    [Fact]
    public void A_check_in_after_the_alert_is_recorded_and_the_alert_stays_in_the_record()
    {
        var bench = AnsweredAt1000();
        PassTo(bench, 2100);
        Assert.IsType<Accepted>(CheckIn(bench));
        Assert.Equal((CheckInStage.Quiet, 1), (Watch(bench).Stage, Unanswered(bench)));
        Assert.Equal(Ticks.OfSeconds(3000), Watch(bench).Due);
    }

    [Fact]
    public void After_the_end_of_the_job_nobody_is_asked()
    {
        var bench = AnsweredAt1000();
        bench.Do(new CloseJob("nothing to do"));
        bench.Pass(3000);
        Assert.Equal(0, Unanswered(bench));
        Assert.IsType<Refused>(CheckIn(bench));
    }
}
