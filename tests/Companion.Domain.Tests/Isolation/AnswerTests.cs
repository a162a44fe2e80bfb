using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

public sealed class AnswerTests
{
    private static JobBench AtOpening() => new JobBench().Open().Until(NeedKind.OpenPoint);

    // I8
    [Fact]
    public void An_opening_needs_the_code()
    {
        var bench = AtOpening();
        bench.Say(Phrase.Opened);
        Assert.Empty(bench.Job!.Points);
        Assert.IsType<Refused>(bench.Say(Phrase.Affirm));
        Assert.IsType<Refused>(bench.Say(Phrase.AffirmCode, "00"));
        Assert.Empty(bench.Job.Points);
        bench.Say(Phrase.AffirmCode, bench.Job.Question!.Code);
        Assert.Single(bench.Job.Points);
    }

    // I8: one attempt per code.
    [Fact]
    public void A_code_that_failed_is_never_asked_again_at_once()
    {
        var bench = AtOpening();
        bench.Say(Phrase.Opened);
        var first = bench.Job!.Question!.Code;
        bench.Say(Phrase.AffirmCode, "00");
        Assert.NotEqual(first, bench.Job.Question!.Code);
        Assert.IsType<Refused>(bench.Say(Phrase.AffirmCode, first));
    }

    // I8
    [Fact]
    public void A_deliberate_hold_stands_for_the_code_and_a_tap_does_not()
    {
        var bench = AtOpening();
        bench.Say(Phrase.Opened, by: By.Touch, held: Ticks.OfMilliseconds(1100));
        Assert.Empty(bench.Job!.Points);
        bench.Say(Phrase.Wrong);
        bench.Say(Phrase.Opened, by: By.Touch, held: Ticks.OfMilliseconds(1300));
        Assert.Single(bench.Job.Points);
    }

    [Fact]
    public void Wrong_discards_what_was_heard()
    {
        var bench = AtOpening();
        bench.Say(Phrase.Opened);
        bench.Say(Phrase.Wrong);
        Assert.Null(bench.Job!.Question!.Echo);
        Assert.Equal(1, bench.Count<AnswerCorrected>());
        Assert.Empty(bench.Job.Points);
    }

    // Echo oracle (ICAO Annex 11 3.7.3 read-back, from memory): said again the same = accepted.
    [Fact]
    public void A_reading_said_again_the_same_is_taken_and_another_value_starts_again()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Say(Phrase.Reading, "16");
        bench.Say(Phrase.Reading, "60");
        Assert.Equal(0, bench.Count<ReadingTaken>());
        Assert.Equal("60", bench.Job!.Question!.Echo!.Number);
        bench.Say(Phrase.Reading, "60.0");
        Assert.Equal(1, bench.Count<ReadingTaken>());
    }

    [Fact]
    public void Affirm_alone_never_confirms_a_reading()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Say(Phrase.Reading, "3");
        Assert.IsType<Refused>(bench.Say(Phrase.Affirm));
        Assert.Equal(0, bench.Count<ReadingTaken>());
    }

    // I17
    [Fact]
    public void An_answer_that_began_before_the_question_does_not_count()
    {
        var bench = AtOpening();
        var early = bench.Time.Now with { Boot = bench.Job!.Question!.Since - Ticks.OfMilliseconds(1) };
        var refused = bench.Do(new Answer
        {
            Question = bench.Job.Question.Sequence, Began = early, By = By.Touch, Phrase = Phrase.Opened, Held = Ticks.OfSeconds(2),
        });
        Assert.IsType<Refused>(refused);
        Assert.Empty(bench.Job.Points);
    }

    // I17
    [Fact]
    public void An_answer_to_an_earlier_question_does_not_count()
    {
        var bench = AtOpening();
        var old = bench.Job!.Question!.Sequence;
        bench.Claim(Phrase.Opened);
        var again = bench.Do(new Answer
        {
            Question = old, Began = bench.Time.Now, By = By.Touch, Phrase = Phrase.Fitted, Number = "9", Held = Ticks.OfSeconds(2),
        });
        Assert.IsType<Refused>(again);
        Assert.Equal(0, bench.Count<PointLocked>());
    }

    // I6
    [Theory]
    [InlineData(Phrase.Fitted, "4")]
    [InlineData(Phrase.Covered, null)]
    [InlineData(Phrase.Done, null)]
    [InlineData(Phrase.ClearToWork, null)]
    [InlineData(Phrase.ProvedDead, null)]
    public void A_phrase_for_another_step_is_refused_and_names_what_is_missing(Phrase phrase, string? number)
    {
        var bench = AtOpening();
        var refused = Assert.IsType<Refused>(bench.Say(phrase, number));
        Assert.Matches("Open lowvolt|Not open: twelve volt battery", refused.Reason);
        Assert.Empty(bench.Job!.Points);
        Assert.True(bench.Log[^1].Event is StepRefused or DeadRefused);
    }

    // I9
    [Fact]
    public void What_the_ear_does_not_stand_by_is_journalled_and_confirms_nothing()
    {
        var bench = AtOpening();
        bench.Do(new Unheard("opened", "unsure", 310));
        Assert.False(bench.LastOf<SpeechHeard>().Accepted);
        Assert.Empty(bench.Job!.Points);
    }

    [Fact]
    public void A_lock_number_is_used_only_once_in_a_job()
    {
        var bench = new JobBench().Open().Until(NeedKind.FitLock);
        bench.Claim(Phrase.Fitted, "12");
        bench.Until(NeedKind.FitLock);
        Assert.IsType<Refused>(bench.Claim(Phrase.Fitted, "12"));
    }

    [Fact]
    public void An_unknown_sheet_number_is_refused()
    {
        var bench = new JobBench().Open().Until(NeedKind.ChooseSheet);
        var refused = bench.Do(new Answer
        {
            Question = bench.Job!.Question!.Sequence, Began = bench.Time.Now, By = By.Voice, Phrase = Phrase.Sheet, Number = "99",
        });
        Assert.IsType<Refused>(refused);
    }

    // I21
    [Fact]
    public void A_sheet_that_changed_between_echo_and_code_is_refused()
    {
        var bench = new JobBench().Open().Until(NeedKind.ChooseSheet);
        bench.Say(Phrase.Sheet, "7");
        var refused = bench.Do(new Answer
        {
            Question = bench.Job!.Question!.Sequence, Began = bench.Time.Now, By = By.Voice, Phrase = Phrase.AffirmCode,
            Number = bench.Job.Question.Code, Sheet = new OfferedSheet(DemoSheets.Van(60), "another-digest"),
        });
        Assert.IsType<Refused>(refused);
        Assert.Null(bench.Job.Sheet);
    }

    // I20
    [Fact]
    public void A_rehearsal_sheet_is_refused_in_a_real_store()
    {
        var sheet = DemoSheets.Van() with { RehearsalOnly = true };
        var bench = new JobBench { Sheet = sheet }.Open().Until(NeedKind.ChooseSheet);
        Assert.IsType<Refused>(bench.Claim(Phrase.Sheet, "7"));
        var rehearsal = new JobBench { Sheet = sheet }.Open(rehearsal: true).Until(NeedKind.ChooseSheet);
        Assert.IsType<Accepted>(rehearsal.Claim(Phrase.Sheet, "7"));
    }
}
