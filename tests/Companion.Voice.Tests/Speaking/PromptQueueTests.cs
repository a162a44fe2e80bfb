using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Speaking;
using Companion.Voice.Tests.Support;
using Companion.Voice.TurnTaking;

namespace Companion.Voice.Tests.Speaking;

public sealed class PromptQueueTests : IDisposable
{
    private readonly ManualClock clock = new();
    private readonly RecordingInbox inbox = new();
    private readonly FakeSynthesiser synthesiser = new();
    private readonly FakeLoudspeaker loudspeaker;
    private readonly TurnGate turn;
    private readonly PromptQueue queue;

    public PromptQueueTests()
    {
        loudspeaker = new FakeLoudspeaker(clock);
        turn = new TurnGate(clock);
        queue = new PromptQueue(new SpeechCache(synthesiser), loudspeaker, turn, clock, clock, inbox);
    }

    public void Dispose() => queue.Dispose();

    [Fact]
    public async Task A_prompt_counts_as_played_only_after_the_loudspeaker_has_drained()
    {
        queue.Say(new Prompt(1, Urgency.Step, "1", 0));
        Assert.Equal(new PromptReceipt(1, true, null), (await inbox.Wait<PromptReceipt>(1))[0]);
        Assert.Equal(1, loudspeaker.Drained);
        Assert.Equal(FakeSynthesiser.Samples, loudspeaker.Played.Count);
    }

    [Fact]
    public async Task The_most_urgent_prompt_goes_first_and_then_the_oldest()
    {
        await HoldAtFirstPrompt();
        queue.Say(new Prompt(2, Urgency.TimeCall, "2", 0));
        queue.Say(new Prompt(3, Urgency.Step, "3", 0));
        queue.Say(new Prompt(4, Urgency.Step, "4", 0));
        queue.Say(new Prompt(5, Urgency.Refusal, "5", 0));
        loudspeaker.Free.Set();
        await inbox.Wait<PromptReceipt>(5);
        Assert.Equal([1, 5, 3, 4, 2], inbox.Receipts.Select(receipt => receipt.Id));
        Assert.All(inbox.Receipts, receipt => Assert.True(receipt.PlayedToEnd));
    }

    [Fact]
    public async Task An_alarm_cuts_in_at_once_and_the_step_is_spoken_again_afterwards()
    {
        await HoldAtFirstPrompt(Urgency.Step);
        queue.Say(new Prompt(2, Urgency.Alarm, "2", 0));
        var before = loudspeaker.Played.Count;
        loudspeaker.Free.Set();
        var receipts = await inbox.Wait<PromptReceipt>(2);
        Assert.Equal([2, 1], receipts.Select(receipt => receipt.Id));
        Assert.All(receipts, receipt => Assert.True(receipt.PlayedToEnd));
        Assert.Equal([1, 2, 1], loudspeaker.Order);

        // Not a sample of the step sounds between the cut and the alarm's tone.
        var tone = loudspeaker.Played.Skip(before).Take(AlarmTone.BeforeSpeech.Length);
        Assert.Equal(AlarmTone.BeforeSpeech, tone);
    }

    [Fact]
    public async Task A_time_call_cut_off_is_not_repeated()
    {
        await HoldAtFirstPrompt(Urgency.TimeCall);
        queue.Say(new Prompt(2, Urgency.Alarm, "2", 0));
        loudspeaker.Free.Set();
        var receipts = await inbox.Wait<PromptReceipt>(2);
        Assert.Equal([new PromptReceipt(1, false, "cut off"), new PromptReceipt(2, true, null)], receipts);
    }

    [Fact]
    public async Task A_time_call_that_waited_more_than_ten_seconds_is_dropped()
    {
        await HoldAtFirstPrompt();
        queue.Say(new Prompt(2, Urgency.TimeCall, "2", 0));
        clock.Advance(TimeSpan.FromSeconds(11));
        loudspeaker.Free.Set();
        var receipts = await inbox.Wait<PromptReceipt>(2);
        Assert.Equal(new PromptReceipt(2, false, "stale"), receipts[1]);
        Assert.Equal([1], loudspeaker.Order);
    }

    [Fact]
    public async Task Prompts_of_a_question_that_is_gone_are_dropped_alarms_are_not()
    {
        await HoldAtFirstPrompt(Urgency.Alarm);
        queue.Say(new Prompt(2, Urgency.Step, "2", 7));
        queue.Say(new Prompt(3, Urgency.Alarm, "3", 7));
        queue.Say(new Prompt(4, Urgency.Step, "4", 8));
        queue.DropStale(4);
        loudspeaker.Free.Set();
        await inbox.Wait<PromptReceipt>(4);
        Assert.Equal(new PromptReceipt(2, false, "stale"), inbox.Receipts[0]);
        Assert.Equal([1, 3, 4], loudspeaker.Order);
    }

    [Fact]
    public async Task A_step_that_sounds_stops_when_its_question_is_gone()
    {
        await HoldAtFirstPrompt(Urgency.Step);
        queue.DropStale(2);
        loudspeaker.Free.Set();
        Assert.Equal(new PromptReceipt(1, false, "stale"), (await inbox.Wait<PromptReceipt>(1))[0]);
        Assert.True(loudspeaker.Played.Count < FakeSynthesiser.Samples);
    }

    [Fact]
    public void A_statement_stays_when_a_question_is_gone()
    {
        var line = new PromptLine();
        line.Add(new Prompt(1, Urgency.Step, "Wait over, not yet tested.", 0), clock.Now());
        line.Add(new Prompt(2, Urgency.Step, "Say opened.", 4), clock.Now());
        Assert.Equal([new PromptReceipt(2, false, "stale")], line.DropBefore(3));
        Assert.Equal(["Wait over, not yet tested."], line.Texts);
    }

    [Fact]
    public async Task The_line_is_bounded_and_the_least_urgent_prompt_goes()
    {
        await HoldAtFirstPrompt(Urgency.Alarm);
        for (var n = 2; n <= PromptLine.MaximumWaiting + 2; n++)
        {
            queue.Say(new Prompt(n, n == 9 ? Urgency.TimeCall : Urgency.Step, "2", 0));
        }

        Assert.Equal(new PromptReceipt(9, false, "queue full"), (await inbox.Wait<PromptReceipt>(1))[0]);
    }

    [Fact]
    public async Task Without_a_loudspeaker_prompts_fail_and_it_is_said_once_until_it_is_back()
    {
        loudspeaker.Missing = true;
        queue.Say(new Prompt(1, Urgency.Alarm, "1", 0));
        queue.Say(new Prompt(2, Urgency.Step, "2", 0));
        var receipts = await inbox.Wait<PromptReceipt>(2);
        Assert.All(receipts, receipt => Assert.Equal((false, "no loudspeaker"), (receipt.PlayedToEnd, receipt.Reason)));
        Assert.Equal(("loudspeaker", false), ((await inbox.Wait<DeviceNotice>(1))[0].Device, inbox.Notices[0].Present));
        loudspeaker.Missing = false;
        Assert.True((await inbox.Wait<DeviceNotice>(2))[1].Present);
    }

    [Fact]
    public async Task An_alarm_whose_words_cannot_be_made_still_sounds_its_tone()
    {
        queue.Say(new Prompt(1, Urgency.Alarm, "!", 0));
        Assert.Equal(new PromptReceipt(1, false, "synthesiser failed"), (await inbox.Wait<PromptReceipt>(1))[0]);
        Assert.Equal(AlarmTone.BeforeSpeech, loudspeaker.Played);
    }

    [Fact]
    public async Task The_ear_is_shut_while_it_sounds_and_a_little_after()
    {
        await HoldAtFirstPrompt();
        Assert.True(turn.IsShut);
        loudspeaker.Free.Set();
        await inbox.Wait<PromptReceipt>(1);
        Assert.True(turn.IsShut);
        clock.Advance(TimeSpan.FromMilliseconds(199));
        Assert.True(turn.IsShut);
        clock.Advance(TimeSpan.FromMilliseconds(1));
        Assert.False(turn.IsShut);
    }

    [Fact]
    public async Task A_step_waits_while_somebody_speaks_an_alarm_does_not()
    {
        turn.Speech(true);
        queue.Say(new Prompt(1, Urgency.Alarm, "1", 0));
        await inbox.Wait<PromptReceipt>(1);
        turn.Speech(true);
        var before = clock.Now().Boot;
        queue.Say(new Prompt(2, Urgency.Step, "2", 0));
        await inbox.Wait<PromptReceipt>(2);
        Assert.InRange((clock.Now().Boot - before).Nanoseconds, 2_000_000_000, 2_500_000_000); // the courtesy, and 0.2 s of speech
    }

    [Fact]
    public void What_was_made_is_kept_up_to_a_limit()
    {
        var cache = new SpeechCache(synthesiser, 2 * FakeSynthesiser.Samples);
        foreach (var text in (string[])["1", "2", "1", "3", "1", "2"])
        {
            _ = cache.Speak(text);
        }

        Assert.Equal(["1", "2", "3", "2"], synthesiser.Made);
        Assert.Equal(2, cache.Count);
    }

    private async Task HoldAtFirstPrompt(Urgency urgency = Urgency.Refusal)
    {
        loudspeaker.Free.Reset();
        var sounding = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        loudspeaker.OnPlay = _ => sounding.TrySetResult();
        queue.Say(new Prompt(1, urgency, "1", 3));
        await sounding.Task.WaitAsync(TimeSpan.FromSeconds(10));
    }
}
