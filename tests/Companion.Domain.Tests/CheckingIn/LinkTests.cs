using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.CheckingIn;

/// <summary>The watch room's word before live parts are exposed (I23).</summary>
public sealed class LinkTests
{
    private static JobBench AtTheFirstExposingStep(bool watchroom = true)
    {
        var bench = new JobBench { HasWatchroom = watchroom }.Open().Prepare();
        while (bench.Job!.CurrentStep is not { Exposes: true })
        {
            bench.AnswerRightly();
        }

        return bench;
    }

    private static bool IsRefused(JobBench bench) => bench.AnswerRightly() is Refused refused
        && refused.Reason.Contains("watch room has not answered", StringComparison.Ordinal);

    [Fact]
    public void An_exposing_step_needs_a_word_of_the_last_minute()
    {
        var bench = AtTheFirstExposingStep();
        Assert.True(IsRefused(bench));
        bench.Do(new LinkAnswered());
        bench.Pass(59);
        Assert.False(IsRefused(bench));
    }

    [Fact]
    public void A_word_that_is_older_does_not_count()
    {
        var bench = AtTheFirstExposingStep();
        bench.Do(new LinkAnswered());
        bench.Pass(61);
        Assert.True(IsRefused(bench));
    }

    // A sleep counts in full: the word grows old with it.
    [Fact]
    public void A_word_from_before_a_sleep_does_not_count()
    {
        var bench = AtTheFirstExposingStep();
        bench.Do(new LinkAnswered());
        bench.Time.Sleep(Ticks.OfSeconds(90));
        bench.Do(new Tick());
        while (bench.Job!.Question!.Need.Kind is NeedKind.NothingTouched)
        {
            bench.AnswerRightly();
        }

        Assert.True(IsRefused(bench));
    }

    [Fact]
    public void Words_are_recorded_seldom_and_not_at_all_once_it_was_begun()
    {
        var bench = AtTheFirstExposingStep();
        for (var second = 0; second < 60; second++)
        {
            bench.Pass(1);
            bench.Do(new LinkAnswered());
        }

        Assert.Equal(2, bench.Log.Count(entry => entry.Event is LinkHeard));
        bench.Until(NeedKind.ClaimDead);
        bench.Do(new LinkAnswered());
        Assert.Equal(2, bench.Log.Count(entry => entry.Event is LinkHeard));
    }

    // What was begun is finished: somebody in the middle of a dead test must not be held up there by a lost link.
    [Fact]
    public void What_was_begun_goes_on_without_the_link()
    {
        var bench = AtTheFirstExposingStep();
        bench.Do(new LinkAnswered());
        bench.Until(NeedKind.Working);
        Assert.NotNull(bench.Job!.Clearance);
    }

    [Fact]
    public void A_recorded_arrangement_takes_the_place_of_the_link_and_must_be_held()
    {
        var bench = AtTheFirstExposingStep();
        Assert.IsType<Refused>(bench.Say(Phrase.NoSignal));
        Assert.IsType<Refused>(bench.Say(Phrase.NoSignal, by: By.Touch, held: Ticks.OfMilliseconds(200)));
        Assert.True(IsRefused(bench));
        Assert.IsType<Accepted>(bench.Say(Phrase.NoSignal, by: By.Touch, held: Answer.DeliberateHold));
        Assert.False(IsRefused(bench));
    }

    [Fact]
    public void A_tablet_without_a_watch_room_is_not_held_up_and_arranges_nothing()
    {
        var bench = AtTheFirstExposingStep(watchroom: false);
        Assert.IsType<Refused>(bench.Say(Phrase.NoSignal, by: By.Touch, held: Answer.DeliberateHold));
        bench.Do(new LinkAnswered());
        Assert.False(IsRefused(bench));
        Assert.DoesNotContain(bench.Log, entry => entry.Event is LinkHeard);
    }
}
