using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Screens.Answering;
using Companion.Screens.Showing;
using Companion.Screens.Tests.Support;
using Companion.TestKit;

namespace Companion.Screens.Tests;

public sealed class ButtonTests
{
    public static TheoryData<NeedKind> Questions => [.. Enum.GetValues<NeedKind>().Where(kind => kind != NeedKind.Nothing)];

    [Theory]
    [MemberData(nameof(Questions))]
    public void Every_question_has_words_and_three_buttons_and_says_what_may_be_said(NeedKind kind)
    {
        var view = ViewOf(Asked(kind));

        Assert.NotEmpty(view.Ask);
        Assert.NotEmpty(view.Buttons.Primary.Label);
        Assert.NotNull(view.Buttons.Second.Phrase);
        Assert.Equal(Phrase.Stop, view.Buttons.Third.Phrase);
        Assert.Equal(kind == NeedKind.WaitOver, view.MayBeSaid.IsEmpty);
        Assert.DoesNotContain("safe", view.Ask, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void In_a_stand_off_a_typed_temperature_is_tapped_and_the_hand_over_is_held()
    {
        var typed = ViewOf(Asked(NeedKind.StandOff), new Entry("24.5", false)).Buttons.Primary;
        var untyped = ViewOf(Asked(NeedKind.StandOff)).Buttons.Primary;
        Assert.Equal((Phrase.Temperature, false), (typed.Phrase!.Value, typed.Hold));
        Assert.Equal((Phrase.HandOver, true), (untyped.Phrase!.Value, untyped.Hold));
    }

    [Fact]
    public void A_question_of_the_arrival_has_no_and_yes()
    {
        var buttons = ViewOf(Asked(NeedKind.SceneQuestion)).Buttons;
        Assert.Equal([Phrase.No, Phrase.Yes], [buttons.Primary.Phrase!.Value, buttons.Second.Phrase!.Value]);
    }

    // Only in the absence of another holder, with the crew number of who answers for it typed.
    [Fact]
    public void The_employers_procedure_is_offered_for_anothers_lock_alone()
    {
        var own = Asked(NeedKind.RemoveLock);
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Claim(Phrase.PersonJoins, "12");
        bench.Until(NeedKind.Working).Say(Phrase.PersonLeft, "12");
        var typed = new Entry("77", false);
        Assert.Equal(Phrase.CannotDo, ViewOf(own with { Technician = own.Locks[0].Holder }, typed).Buttons.Second.Phrase);
        Assert.Equal(Phrase.CannotDo, ViewOf(bench.Job!).Buttons.Second.Phrase);
        Assert.Equal((Phrase.ByProcedure, true), (ViewOf(bench.Job!, typed).Buttons.Second.Phrase!.Value, ViewOf(bench.Job!, typed).Buttons.Second.Hold));
    }

    public static TheoryData<NeedKind> QuestionsWithoutTemperature => [.. Enum.GetValues<NeedKind>().Where(kind => kind is not (NeedKind.Nothing or NeedKind.StandOff))];

    [Theory]
    [MemberData(nameof(QuestionsWithoutTemperature))]
    public void What_needs_a_code_by_voice_is_held_on_the_screen(NeedKind kind)
    {
        var view = ViewOf(Asked(kind), new Entry("7", false));

        var critical = Expectations.Of(kind).Confirmation != Confirmation.None;
        Assert.Equal(critical, view.Buttons.Primary.Hold);
    }

    [Theory]
    [MemberData(nameof(Questions))]
    public void An_echo_is_affirmed_by_a_hold_or_called_wrong(NeedKind kind)
    {
        var asked = Asked(kind);
        var echoed = asked with { Question = asked.Question! with { Echo = new Echo(Phrase.Opened, null, false, null, null), Code = "47" } };

        var view = ViewOf(echoed);

        Assert.Equal((Phrase.Affirm, true), (view.Buttons.Primary.Phrase!.Value, view.Buttons.Primary.Hold));
        Assert.Equal(Phrase.Wrong, view.Buttons.Second.Phrase);
        Assert.Equal("47", view.Code);
        Assert.Contains("affirm, four seven", view.MayBeSaid);
        Assert.Null(view.Number);
    }

    [Theory]
    [InlineData(NeedKind.ChooseSheet, NumberKind.Sheet, "Sheet number")]
    [InlineData(NeedKind.FitLock, NumberKind.Lock, "Lock number")]
    [InlineData(NeedKind.ProveTester, NumberKind.Reading, "Tester shows, DC volts")]
    [InlineData(NeedKind.TakeReading, NumberKind.Reading, "positive to negative, DC volts")]
    public void A_question_for_a_number_brings_a_keypad_and_waits_for_it(NeedKind kind, NumberKind number, string title)
    {
        var asked = Asked(kind);

        var empty = ViewOf(asked);
        var typed = ViewOf(asked, new Entry("12", false));

        Assert.Equal((number, title), (empty.Number!.Kind, empty.Number.Title));
        Assert.False(empty.Buttons.Primary.Enabled);
        Assert.True(typed.Buttons.Primary.Enabled);
    }

    [Fact]
    public void Below_is_offered_with_the_lowest_indication_of_the_tester()
    {
        Assert.Equal("6", ViewOf(Asked(NeedKind.TakeReading)).Number!.Lowest);
        Assert.Null(ViewOf(Asked(NeedKind.ProveTester)).Number!.Lowest);
    }

    [Fact]
    public void While_nothing_is_recorded_only_warnings_are_left_and_no_verdict_is_shown()
    {
        var job = Cleared();
        var snapshot = new ScreenBench().Snapshot with { Job = job, Recording = false, Trouble = "The disk is full." };

        var view = JobViews.Of(snapshot, Entry.Empty, new FakeSheets(), ScreenBench.Opening);

        Assert.Empty(view.Statements);
        Assert.Equal([null, Phrase.HelpMe, Phrase.Stop], [view.Buttons.Primary.Phrase, view.Buttons.Second.Phrase, view.Buttons.Third.Phrase]);
        Assert.Contains("Treat as live", view.Banners[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Clear_to_work_names_places_time_what_stays_live_and_the_next_test()
    {
        var statement = Assert.Single(ViewOf(Cleared()).Statements);

        Assert.Contains("front inverter, rear inverter", statement, StringComparison.Ordinal);
        Assert.Matches(@"clear to work, \d\d:\d\d", statement);
        Assert.Contains("Still live: both packs and the pack side of both plugs", statement, StringComparison.Ordinal);
        Assert.Contains("Test again within 30 minutes", statement, StringComparison.Ordinal);
    }

    [Fact]
    public void In_doubt_nothing_that_was_proved_is_shown()
    {
        Assert.Empty(ViewOf(Cleared() with { Doubt = true }).Statements);
    }

    private static Job Cleared() => new JobBench().Open().Prepare().Until(NeedKind.Working).Job!;

    private static Job Asked(NeedKind kind)
    {
        if (kind is NeedKind.EverybodyAway or NeedKind.Uncover or NeedKind.RemoveLock or NeedKind.ClosePoint or NeedKind.PutBack)
        {
            var working = new JobBench().Open().Until(NeedKind.Working);
            working.Claim(Phrase.WorkDone);
            return working.Until(kind).Job!;
        }

        var bench = kind is NeedKind.SceneAct or NeedKind.SceneQuestion or NeedKind.SceneRemedy or NeedKind.SceneReadBack
            ? new JobBench { Arrival = DemoArrival.Complete() }.Open()
            : new JobBench().Open().Prepare();
        var stand = kind is NeedKind.FitLock or NeedKind.TakeReading or NeedKind.ProveTester or NeedKind.ClaimDead or NeedKind.ConfirmContact
            ? bench.Until(kind is NeedKind.ConfirmContact ? NeedKind.TakeReading : kind)
            : bench;
        var job = stand.Job!;
        var subject = kind switch
        {
            NeedKind.SceneAct => "traffic",
            NeedKind.SceneQuestion => "fire",
            NeedKind.SceneRemedy => "chargingcable",
            NeedKind.SceneReadBack or NeedKind.StandOff => string.Empty,
            NeedKind.CheckKit => "gloves",
            NeedKind.ProveTester => "frontlink:before:Dc",
            NeedKind.TakeReading => "frontlink:rails",
            NeedKind.ClaimDead or NeedKind.ConfirmContact => "frontlink",
            NeedKind.TakeWay => "loop",
            _ => job.CurrentStep!.Id.Value,
        };
        var question = new Question(job.Sequence, new Need(kind, subject), job.Clock.BootId, Ticks.Zero)
        {
            Code = kind == NeedKind.SoundCheck ? "47" : null,
        };
        return job with
        {
            Question = question,
            StandOff = kind == NeedKind.StandOff ? new StandOff(1, "fire", 1600) : null,
            Alarms = kind == NeedKind.AlarmHeard ? [new Alarm(1, AlarmKind.Stop, "Stop. Stand clear.")] : [],
        };
    }

    private static JobView ViewOf(Job job, Entry? entry = null) => JobViews.Of(
        new ScreenBench().Snapshot with { Job = job }, entry ?? Entry.Empty, new FakeSheets(DemoSheets.Van()), ScreenBench.Opening);
}
