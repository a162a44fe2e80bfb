using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Time;

namespace Companion.TestKit.Judging;

/// <summary>Keeps the check-in deadline of one job by its entries alone, in a measure of its own (I10). Times count every gap in full, from the opening on.</summary>
public sealed class CheckInLedger
{
    private Ticks _full;
    private Moment? _last;
    private Ticks _made;

    /// <summary>When the next check-in falls due.</summary>
    public Ticks Due { get; private set; }

    /// <summary>From the last check-in to <see cref="Due"/>, in seconds, as the record last told it.</summary>
    public int IntervalSeconds { get; private set; }

    /// <summary>From due to the alert, in seconds.</summary>
    public int MarginSeconds { get; private set; }

    /// <summary>True from the alert to the next check-in.</summary>
    public bool Raised { get; private set; }

    /// <summary>Takes a turn and what it recorded.</summary>
    public void Take(Turned turn, IEnumerable<Witnessed> entries)
    {
        foreach (var entry in entries)
        {
            _full += Since(entry.Moment);
            _last = entry.Moment;
            Take(entry.Event, turn.Command);
        }

        if (turn.After is not { Ended: false } job)
        {
            return;
        }

        var now = _full + Since(turn.Moment);
        var overdue = Due + Ticks.OfSeconds(MarginSeconds);
        Oracle.Claim(!Raised || now >= overdue || MarginSeconds == 0, "I10: an alert stands without its deadline having passed");
        Oracle.Claim(Raised || now < overdue || turn.Command is Answer, $"I10: a check-in due at {Due} was missed at {now}");
        Oracle.Claim(job.CheckIn!.Due == Due, $"I10: the deadline is {job.CheckIn.Due}, by the record it is {Due}");
        Oracle.Claim(job.CheckIn.Stage == CheckInStage.Unanswered == Raised, "I10: the alert does not stand as the record says");
    }

    private void Take(JobEvent happened, Command command)
    {
        switch (happened)
        {
            case JobOpened { Watch: { } policy } opened:
                var times = policy.Of(WorkPhase.Travelling);
                (IntervalSeconds, MarginSeconds) = (opened.SecondPerson is null ? times.AloneSeconds : times.IntervalSeconds, times.MarginSeconds);
                Due = Ticks.OfSeconds(IntervalSeconds);
                break;
            case CheckInMade made:
                Oracle.Claim(IsCheckIn(command), $"I10: {command.GetType().Name} counts as a check-in");
                Oracle.Claim(made.Made <= _full && made.Made >= _made && made.Due == made.Made + Ticks.OfSeconds(made.IntervalSeconds), "I10: a check-in counts from when it was not made");
                (Due, IntervalSeconds, MarginSeconds, Raised, _made) = (made.Due, made.IntervalSeconds, made.MarginSeconds, false, made.Made);
                break;
            case CheckInSooner sooner:
                Oracle.Claim(sooner.Due <= Due && sooner.Due + Ticks.OfSeconds(sooner.MarginSeconds) < Due + Ticks.OfSeconds(MarginSeconds), "I10: a deadline was extended");
                (Due, IntervalSeconds, MarginSeconds) = (sooner.Due, sooner.IntervalSeconds, sooner.MarginSeconds);
                break;
            case CheckInUnanswered:
                Oracle.Claim(!Raised, "I10: an alert was raised twice");
                Oracle.Claim(_full >= Due + Ticks.OfSeconds(MarginSeconds), "I10: an alert was raised too early");
                Raised = true;
                break;
        }
    }

    /// <summary>Only a person's word is one, and a touch only when it was held.</summary>
    private static bool IsCheckIn(Command command) =>
        command is Answer { Phrase: Phrase.AllRight or Phrase.StatusAllRight } answer && (answer.By != By.Touch || answer.IsHold);

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
