using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Speaking;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.TestKit;

namespace Companion.Engine.Tests;

/// <summary>From what was heard to what is taken.</summary>
public sealed class HearingTests
{
    // I9
    [Theory]
    [InlineData(HearingOutcome.Unsure, "Not understood.")]
    [InlineData(HearingOutcome.TooNoisy, "Too noisy")]
    public async Task What_the_ear_does_not_stand_by_is_journalled_answered_and_changes_nothing(HearingOutcome outcome, string said)
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.OpenPoint);
        await bench.HearAsync("opened", "opened", outcome);
        Assert.Contains(bench.Journal.All, entry => entry.Type == "speech.heard" && entry.Data.Contains("\"accepted\":false", StringComparison.Ordinal));
        Assert.Contains(said, bench.Speaker.Words, StringComparison.Ordinal);
        Assert.Null(bench.Job!.Question!.Echo);
    }

    // I9
    [Fact]
    public async Task What_is_not_for_the_companion_is_journalled_without_a_word()
    {
        var bench = await new EngineBench().OpenAsync();
        bench.Speaker.Clear();
        await bench.HearAsync("opened", "opened", HearingOutcome.NotForUs);
        Assert.Empty(bench.Speaker.All);
        Assert.Contains(bench.Journal.All, entry => entry.Type == "speech.heard");
    }

    // I17
    [Fact]
    public async Task Speech_that_began_before_the_question_does_not_count()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.OpenPoint);
        var began = bench.Clock.Now();
        bench.Clock.Move(time => time.Pass(Ticks.OfMilliseconds(400)));
        await bench.DoAsync(bench.Answer(Phrase.Opened));
        bench.Engine.Post(new Hearing(
            bench.Job!.Question!.Sequence, began, began, HearingOutcome.Accepted, "affirmcode", Spelled("affirm", bench.Job.Question.Code!), 900, 20));
        await bench.Engine.DrainAsync();
        Assert.Empty(bench.Job!.Points);
        Assert.Contains("began before", bench.Speaker.Words, StringComparison.Ordinal);
    }

    // I8: a code heard in noise confirms nothing, however sure the ear is; the button does.
    [Theory]
    [InlineData("affirmcode", 9, HearingOutcome.TooNoisy)]
    [InlineData("affirmcode", 10, HearingOutcome.Accepted)]
    [InlineData("reading", 3, HearingOutcome.TooNoisy)]
    [InlineData("nothingshown", 3, HearingOutcome.TooNoisy)]
    [InlineData("stop", -5, HearingOutcome.Accepted)]
    [InlineData("keyon", 0, HearingOutcome.Accepted)]
    public void What_confirms_needs_quiet_and_what_warns_does_not(string phrase, int signalToNoise, HearingOutcome expected)
    {
        var moment = new ManualClock().Now();
        Assert.Equal(expected, Understanding.Weigh(
            new Hearing(1, moment, moment, HearingOutcome.Accepted, phrase, phrase, 1000, signalToNoise)));
    }

    [Fact]
    public async Task A_whole_opening_by_voice()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.OpenPoint);
        await bench.HearAsync("opened", "opened");
        await bench.HearAsync("affirmcode", Spelled("affirm code", bench.Job!.Question!.Code!));
        Assert.Single(bench.Job!.Points);
    }

    // The ear never listens for what must not be said now: while a code is asked no claim can be heard.
    [Fact]
    public async Task The_ear_listens_only_for_what_may_be_said_now()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.OpenPoint);
        Assert.True(bench.Ear.MayHear("opened") && bench.Ear.MayHear("stop") && !bench.Ear.MayHear("affirmcode") && !bench.Ear.MayHear("reading"));
        Assert.Equal(bench.Job!.Question!.Sequence, bench.Ear.Now!.Question);

        await bench.SayAsync(Phrase.Opened);
        Assert.True(bench.Ear.MayHear("affirmcode") && bench.Ear.MayHear("wrong") && bench.Ear.MayHear("keyon"));
        Assert.False(bench.Ear.MayHear("opened") || bench.Ear.MayHear("checked") || bench.Ear.MayHear("handover"));
        Assert.All(bench.Ear.Now.Phrases, phrase => Assert.Equal(phrase.Id is "stop" or "helpme" || Losing(phrase.Id), phrase.Loose));
    }

    [Fact]
    public async Task After_the_job_only_warnings_and_questions_are_listened_for()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.Working);
        await bench.SayAsync(Phrase.HandOver);
        await bench.SayAsync(Phrase.AffirmCode, bench.Job!.Question!.Code);
        Assert.True(bench.Job.Ended);
        Assert.Equal(0, bench.Ear.Now!.Question);
        Assert.False(bench.Ear.MayHear("affirm"));
    }

    [Theory]
    [InlineData("affirmcode", "affirm code four seven", Phrase.AffirmCode, "47", false, null)]
    [InlineData("affirmcode", "affirm zero four", Phrase.AffirmCode, "04", false, null)]
    [InlineData("sheet", "sheet seven", Phrase.Sheet, "7", false, null)]
    [InlineData("fitted", "fitted lock zero one two", Phrase.Fitted, "012", false, null)]
    [InlineData("fittedbare", "fitted", Phrase.Fitted, null, false, null)]
    [InlineData("reading", "minus six one decimal five volts", Phrase.Reading, "-61.5", false, null)]
    [InlineData("reading", "four hundred", Phrase.Reading, "400", false, null)]
    [InlineData("readingdc", "one two volts d c", Phrase.Reading, "12", false, VoltageKind.Dc)]
    [InlineData("readingac", "one two volts a c", Phrase.Reading, "12", false, VoltageKind.Ac)]
    [InlineData("below", "below six volts", Phrase.Reading, "6", true, null)]
    [InlineData("otherunit", "three millivolts", Phrase.OtherUnit, "3", false, null)]
    [InlineData("watching", "watching two one", Phrase.Watching, "21", false, null)]
    [InlineData("tools", "checked one two", Phrase.Tools, "12", false, null)]
    [InlineData("removed", "removed lock two one", Phrase.Removed, "21", false, null)]
    [InlineData("byprocedure", "by procedure seven seven", Phrase.ByProcedure, "77", false, null)]
    [InlineData("personjoins", "other one two work", Phrase.PersonJoins, "12", false, null)]
    [InlineData("persontakesover", "other one two take over", Phrase.PersonTakesOver, "12", false, null)]
    [InlineData("personleft", "other one two left", Phrase.PersonLeft, "12", false, null)]
    [InlineData("stop", "stop", Phrase.Stop, null, false, null)]
    public void Words_become_the_phrase_and_the_number(string id, string words, Phrase phrase, string? number, bool below, VoltageKind? kind)
    {
        var moment = new DemoTime().Now;
        var answer = Understanding.Of(new Hearing(3, moment, moment, HearingOutcome.Accepted, id, words, 900, 20))!;
        Assert.Equal((phrase, number, below, kind, By.Voice, 3L), (answer.Phrase, answer.Number, answer.Below, answer.Kind, answer.By, answer.Question));
    }

    [Fact]
    public void Every_spoken_form_is_understood()
    {
        var moment = new DemoTime().Now;
        foreach (var form in PhraseBook.All)
        {
            var answer = Understanding.Of(new Hearing(1, moment, moment, HearingOutcome.Accepted, form.Id, form.Id, 900, 20));
            Assert.Equal(form.Phrase, answer!.Phrase);
        }
    }

    private static bool Losing(string id) =>
        Companion.Domain.Deciding.LosingWords.IsLosing(PhraseBook.All.First(form => form.Id == id).Phrase);

    private static string Spelled(string before, string code) => $"{before} {SpokenNumber.Say(code)}";
}
