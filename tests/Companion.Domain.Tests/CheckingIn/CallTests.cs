using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Reacting;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.CheckingIn;

/// <summary>What must reach somebody elsewhere, and what must not show here.</summary>
public sealed class CallTests
{
    private static readonly CheckInPolicy Policy = DemoWatch.Even();

    private static JobBench Bench() => new JobBench { Watch = Policy }.Open().Prepare();

    private static IEnumerable<string> Said(JobBench bench, Decision decision) => decision.Events.SelectMany(happened =>
        React.To(bench.Job!, happened, bench.Time.Now).OfType<Say>().Select(say => say.Text));

    [Theory]
    [InlineData(Phrase.HelpMe)]
    [InlineData(Phrase.Casualty)]
    [InlineData(Phrase.LeaveNow)]
    public void Who_calls_for_help_is_heard_elsewhere_until_somebody_answers(Phrase phrase)
    {
        var bench = Bench();
        bench.Say(phrase);
        var call = Assert.Single(bench.Job!.CheckIn!.Calls);
        Assert.Equal((OutsideCallKind.Help, false), (call.Kind, call.Taken));
        Assert.Equal(bench.Log.Single(entry => entry.Event is AlertRaised { Kind: AlarmKind.Help } or StandOffBegun).Sequence, call.Sequence);

        var taken = bench.Do(new TakeCall(call.Sequence, "Runa Velle"));
        Assert.True(Assert.Single(bench.Job!.CheckIn!.Calls).Taken);
        Assert.Equal("Runa Velle answers your call.", Assert.Single(Said(bench, taken)));
        Assert.Empty(bench.Do(new TakeCall(call.Sequence, "Runa Velle")).Events);
    }

    // I10: the quiet word looks and sounds like a check-in, for ever.
    [Fact]
    public void The_quiet_word_is_answered_and_recorded_like_any_check_in_but_for_what_is_sealed()
    {
        var (plain, quiet) = (Bench(), Bench());
        var (one, other) = (plain.Say(Phrase.AllRight), quiet.Say(Phrase.StatusAllRight));
        Assert.Equal(Said(plain, one), Said(quiet, other));
        var (openly, quietly) = (Assert.IsType<CheckInMade>(Assert.Single(one.Events)), Assert.IsType<CheckInMade>(Assert.Single(other.Events)));
        Assert.Equal(openly, quietly with { Kind = openly.Kind });
        Assert.Equal(CheckInMade.PlainKind.Length, CheckInMade.QuietKind.Length);
        Assert.Empty(plain.Job!.CheckIn!.Calls);
        Assert.Equal(OutsideCallKind.Quiet, Assert.Single(quiet.Job!.CheckIn!.Calls).Kind);
        Assert.Equal(plain.Job.CheckIn with { Calls = [] }, quiet.Job!.CheckIn with { Calls = [] });
    }

    [Fact]
    public void That_somebody_took_the_quiet_word_is_neither_recorded_nor_said()
    {
        var bench = Bench();
        bench.Say(Phrase.StatusAllRight);
        Assert.Empty(bench.Do(new TakeCall(bench.Job!.CheckIn!.Calls[0].Sequence, "Runa Velle")).Events);
    }

    [Fact]
    public void Which_wording_is_the_quiet_word_is_sealed_in_the_opening_of_the_job()
    {
        var opened = Assert.IsType<JobOpened>(Bench().Log[0].Event);
        Assert.Null(opened.Watch!.Quiet);
        Assert.Equal("StatusAllRight", opened.Quiet!.Text);
    }

    [Fact]
    public void Without_an_agreed_quiet_word_both_wordings_are_plain()
    {
        var bench = new JobBench { Watch = DemoWatch.Even() with { Quiet = null } }.Open().Prepare();
        bench.Say(Phrase.StatusAllRight);
        bench.Say(Phrase.AllRight);
        Assert.Empty(bench.Job!.CheckIn!.Calls);
        Assert.Equal(2, bench.Log.Count(entry => entry.Event is CheckInMade));
    }

    [Fact]
    public void A_call_for_something_else_is_passed_over()
    {
        var bench = Bench();
        Assert.Empty(bench.Do(new TakeCall(1, "Runa Velle")).Events);
        Assert.IsType<Accepted>(Decide.On(null, new TakeCall(1, "Runa Velle"), bench.Time.Now, 1));
    }

    [Fact]
    public void It_is_asked_again_while_it_is_due_and_after_it_was_missed()
    {
        var bench = new JobBench { Watch = DemoWatch.Even(900, 120) }.Open();
        var asked = new List<long>();
        for (var second = 0; second < 1200; second++)
        {
            var earlier = bench.Job!.Clock.FullAt(bench.Time.Now);
            bench.Pass(1);
            if (CheckInCalls.Between(bench.Job!, earlier, bench.Job!.Clock.FullAt(bench.Time.Now)) is { } say)
            {
                Assert.Equal(Weight.Alarm, say.Weight);
                asked.Add((bench.Time.Now.Boot - Ticks.OfSeconds(100)).Seconds);
            }
        }

        Assert.Equal([920, 940, 960, 980, 1000, 1080, 1140, 1200], asked);
    }
}
