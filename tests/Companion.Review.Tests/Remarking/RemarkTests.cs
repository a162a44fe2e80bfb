using System.Collections.Immutable;
using Companion.Domain;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Review.Remarking;
using Companion.TestKit;

namespace Companion.Review.Tests.Remarking;

/// <summary>Each kind of remark at the border of its figure.</summary>
public sealed class RemarkTests
{
    private static readonly TestPlaceId Place = new("frontlink");

    [Theory]
    [InlineData(5.0, 1)]
    [InlineData(5.1, 0)]
    public void A_dead_test_that_begins_within_five_seconds_of_the_end_of_a_wait_is_remarked(double after, int remarks) => Assert.Equal(remarks, Count(
        RemarkKind.WaitBarelyKept,
        (10, new WaitCompleted(new("w"), new("front"))),
        (10 + after, new TesterProved(new("tester"), Place, ProvingPhase.Before, VoltageKind.Dc, Volts.Of(230), true)),
        (90, new DeadProved(Place, [new("w")], []))));

    [Theory]
    [InlineData(1, 1)]
    [InlineData(0, 0)]
    public void A_claim_before_the_end_of_a_wait_is_remarked_with_what_was_left(long left, int remarks) =>
        Assert.Equal(remarks, Count(RemarkKind.EarlyClaim, (1, new DeadRefused(Place, "Wait.", left))));

    [Theory]
    [InlineData(2, 0)]
    [InlineData(3, 1)]
    public void The_third_refusal_of_one_step_is_remarked(int refusals, int remarks) => Assert.Equal(remarks, Count(
        RemarkKind.ManyRefusals,
        [(0, new StepRefused("other", By.Voice, 900, "No.", 0)), .. Enumerable.Range(1, refusals).Select(second => ((double)second, (JobEvent)new StepRefused("step", By.Voice, 900, "No.", 0)))]));

    [Theory]
    [InlineData(2, 0)]
    [InlineData(3, 1)]
    public void The_third_answer_that_was_not_accepted_is_remarked_and_accepted_ones_never(int unheard, int remarks) => Assert.Equal(remarks, Count(
        RemarkKind.UnheardAnswers,
        [(0, new SpeechHeard(new Personal("x"), Phrase.Done, true, "", 900)), .. Enumerable.Range(1, unheard).Select(second => ((double)second, (JobEvent)new SpeechHeard(new Personal("x"), null, false, "unsure", 300)))]));

    [Theory]
    [InlineData(2, RemarkWeight.Known)]
    [InlineData(3, RemarkWeight.Word)]
    public void Corrections_are_counted_and_weigh_more_from_the_third_on(int corrections, RemarkWeight weight)
    {
        var remark = Assert.Single(Remarks.Of(RecordedJobs.Of([.. Enumerable.Range(0, corrections).Select(second => ((double)second, (JobEvent)new AnswerCorrected(1, By.Voice)))])));
        Assert.Equal((RemarkKind.Corrections, weight, corrections), (remark.Kind, remark.Weight, remark.Sequences.Length));
    }

    [Fact]
    public void A_prompt_that_was_not_played_is_remarked_with_its_reason()
    {
        var remark = Assert.Single(Remarks.Of(RecordedJobs.Of((0, new PromptSpoken("a")), (1, new PromptFailed("b", "no loudspeaker")))));
        Assert.Equal(RemarkKind.PromptsNotPlayed, remark.Kind);
        Assert.Equal([2], remark.Sequences.AsEnumerable());
        Assert.Contains("no loudspeaker", remark.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(30.0, 0)]
    [InlineData(30.1, 1)]
    public void An_alarm_is_answered_late_after_thirty_seconds(double after, int remarks) => Assert.Equal(
        remarks, Count(RemarkKind.AlarmAnsweredLate, (0, new AlertRaised(AlarmKind.Void, "Void.")), (after, new AlertTaken(1, By.Voice))));

    [Fact]
    public void An_alarm_that_nobody_answered_is_remarked() =>
        Assert.Equal(1, Count(RemarkKind.AlarmAnsweredLate, (0, new AlertRaised(AlarmKind.Stop, "Stop.")), (60, new PromptSpoken("Stop."))));

    [Fact]
    public void A_missed_check_in_points_to_itself_and_to_the_next_one()
    {
        var remark = Assert.Single(Remarks.Of(RecordedJobs.Of(
            (0, new CheckInUnanswered(Ticks.OfSeconds(9))), (70, new CheckInMade(By.Touch, new Personal("plain"), Ticks.OfSeconds(70), Ticks.OfSeconds(900), WorkPhase.Working, 830, 60)))));
        Assert.Equal([1, 2], remark.Sequences.AsEnumerable());
        Assert.Contains("70 s later", remark.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("plain", remark.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lost_device_tells_how_long_it_was_gone() =>
        Assert.Contains("for 12 s", Assert.Single(Remarks.Of(RecordedJobs.Of((1, new DeviceLost("microphone", "unplugged")), (13, new DeviceReturned("microphone"))))).Words, StringComparison.Ordinal);

    [Fact]
    public void A_view_without_word_and_a_stand_off_and_another_way_are_remarked() => Assert.Equal(
        [RemarkKind.DeviceTrouble, RemarkKind.CannotDo, RemarkKind.CannotDo, RemarkKind.StandOff],
        Remarks.Of(RecordedJobs.Of(
            (0, new ViewLost("cuff")),
            (1, new StepUnable(new("openfront"), InabilityReason.Stuck)),
            (2, new WayTaken(new("loop"), new("openfront"), InabilityReason.Stuck)),
            (3, new StandOffBegun("Smoke.", 1500)))).Select(remark => remark.Kind));

    [Theory]
    [InlineData(AnchorReason.Start, 1)]
    [InlineData(AnchorReason.Resume, 1)]
    [InlineData(AnchorReason.Tick, 0)]
    public void A_restart_or_a_sleep_is_an_interruption_and_an_ordinary_anchor_is_none(AnchorReason why, int remarks) =>
        Assert.Equal(remarks, Count(RemarkKind.Interruption, (0, new PromptSpoken("a")), (40, new ClockAnchored(why, Ticks.Zero))));

    [Theory]
    [InlineData("47.9", null)]
    [InlineData("48", RemarkKind.ReadingNearLimit)]
    [InlineData("-48", RemarkKind.ReadingNearLimit)]
    [InlineData("60", RemarkKind.ReadingNearLimit)]
    [InlineData("60.001", RemarkKind.ReadingAboveLimit)]
    public void A_reading_is_near_its_limit_from_eighty_per_cent_on_and_above_it_over_the_limit(string volts, RemarkKind? kind)
    {
        var sheet = DemoSheets.Van();
        sheet = sheet with { TestPlaces = [.. sheet.TestPlaces.Select(place => place with { LimitDc = Volts.Of(60) })] };
        var remarks = Remarks.Of(RecordedJobs.Of(
            (0, new SheetPinned(sheet, "digest", "approver")),
            (1, new ReadingTaken(Place, sheet.TestPlaces[0].Pairs[0].Id, Volts.Parse(volts), null, VoltageKind.Dc, new("tester"), ReadingPurpose.DeadTest))));
        Assert.Equal(kind is { } one ? [one] : [], remarks.Select(remark => remark.Kind));
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(-1, 1)]
    public void A_sheet_is_past_its_review_on_the_day_after(int days, int remarks)
    {
        var sheet = DemoSheets.Van();
        var today = DateOnly.FromDateTime(DemoTime.Start.DateTime);
        Assert.Equal(remarks, Count(RemarkKind.SheetPastReview, (0, new SheetPinned(sheet with { Source = sheet.Source with { ReviewBy = today.AddDays(days) } }, "digest", "approver"))));
    }

    [Theory]
    [InlineData(14, 1)]
    [InlineData(15, 0)]
    [InlineData(0, 1)]
    public void Equipment_is_near_its_date_for_the_last_fourteen_days(int left, int remarks)
    {
        var bench = new JobBench().Open();
        var opened = (JobOpened)bench.Log[0].Event;
        var due = DateOnly.FromDateTime(DemoTime.Start.DateTime).AddDays(left);
        var item = opened.Kit.Single(item => item.Id.Value == "shield") with { Due = due };
        Assert.Equal(remarks, Count(RemarkKind.KitNearDate, (0, opened with { Kit = [item] }), (1, new KitChecked(item.Id, item.Kind, "", true, null))));
    }

    [Theory]
    [InlineData(599, 0)]
    [InlineData(601, 1)]
    public void Ten_minutes_without_a_word_during_the_work_are_remarked(int seconds, int remarks)
    {
        var bench = new JobBench().Open().Prepare().Until(NeedKind.Working).Pass(seconds);
        bench.Say(Phrase.Stop);
        Assert.Equal(remarks, Remarks.Of(RecordedJobs.Of(bench)).Count(remark => remark.Kind == RemarkKind.LongSilence));
    }

    [Fact]
    public void A_trouble_of_the_record_is_remarked_where_it_shows()
    {
        var job = RecordedJobs.Of((0, new PromptSpoken("a")), (1, new PromptSpoken("b")), (2, new PromptSpoken("c")));
        var cut = RecordedJob.Of("j", job.Entries.RemoveAt(1).Select(entry => entry.Entry));
        var remark = Assert.Single(Remarks.Of(cut), remark => remark.Kind == RemarkKind.RecordTrouble);
        Assert.Equal([3], remark.Sequences.AsEnumerable());
    }

    private static int Count(RemarkKind kind, params (double Second, JobEvent Event)[] events) => Remarks.Of(RecordedJobs.Of(events)).Count(remark => remark.Kind == kind);
}
