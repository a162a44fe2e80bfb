using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Deciding;

/// <summary>
/// The watch over a lone worker (I10). What passes is counted in full, sleep and restarts included; only a person's check-in moves the deadline
/// to a later time, and it counts from when it began.
/// </summary>
internal static class CheckInRules
{
    /// <summary>What the passing of time brings.</summary>
    /// <param name="turn">The turn.</param>
    /// <param name="rebooted">True when the last entry is of another running period: how long the tablet was off is uncertain, so it is asked at once.</param>
    public static void Settle(Turn turn, bool rebooted)
    {
        if (turn.Job.CheckIn is null)
        {
            return;
        }

        Shorten(turn, rebooted);
        var watch = turn.Job.CheckIn;
        var now = turn.Job.Clock.FullAt(turn.Moment);
        if (watch.Stage < CheckInStage.Unanswered && now >= watch.Overdue)
        {
            turn.Add(new CheckInUnanswered(watch.Due));
        }
        else if (watch.Stage < CheckInStage.Due && now >= watch.Due)
        {
            turn.Add(new CheckInAsked(CheckInStage.Due, watch.Due));
        }
        else if (watch.Stage < CheckInStage.Asked && now >= watch.Due - Ticks.OfSeconds(watch.Policy.LeadSeconds))
        {
            turn.Add(new CheckInAsked(CheckInStage.Asked, watch.Due));
        }
    }

    /// <summary>True for the phrases that are check-ins.</summary>
    public static bool IsCheckIn(Phrase phrase) => WordingOf(phrase) is not null;

    /// <summary>Somebody says that all is well. A touch must be deliberate: a sleeve on the screen is no sign of life.</summary>
    public static Refusal? Make(Turn turn, Answer answer)
    {
        if (turn.Job.CheckIn is not { } watch)
        {
            return new Refusal("Nobody watches over this job. Nothing is kept of that.");
        }

        if (answer.By == By.Touch && !answer.IsHold)
        {
            return new Refusal("Hold the key to check in.");
        }

        var (phase, interval, margin) = TimesOf(turn.Job, watch.Policy);
        var made = BeganAt(turn, answer);
        var quiet = watch.Policy.Quiet is { } agreed && agreed == WordingOf(answer.Phrase);
        turn.Add(new CheckInMade(
            answer.By,
            new Personal(quiet ? CheckInMade.QuietKind : CheckInMade.PlainKind),
            made,
            made + Ticks.OfSeconds(interval),
            phase,
            interval,
            margin));
        return null;
    }

    /// <summary>Somebody elsewhere answers for a call. Of the quiet word nothing is recorded: it would show what it was.</summary>
    public static void Take(Turn turn, TakeCall take)
    {
        if (turn.Job.CheckIn?.Calls.FirstOrDefault(call => call.Sequence == take.Call) is { Kind: OutsideCallKind.Help, Taken: false })
        {
            turn.Add(new CallTaken(take.Call, new Personal(take.Person)));
        }
    }

    /// <summary>
    /// A phase with a shorter interval, or being alone, acts at once; a longer one with the next check-in. Where the shorter interval has passed
    /// already, it is asked now: nobody is missed who was not asked, and the deadline that stood still stands.
    /// </summary>
    private static void Shorten(Turn turn, bool rebooted)
    {
        var watch = turn.Job.CheckIn!;
        var (phase, interval, margin) = TimesOf(turn.Job, watch.Policy);
        var now = turn.Job.Clock.FullAt(turn.Moment);
        var due = watch.Made + Ticks.OfSeconds(interval);
        if (rebooted || due < now)
        {
            due = now;
        }

        if (due + Ticks.OfSeconds(margin) < watch.Overdue)
        {
            var sooner = due < watch.Due ? due : watch.Due;

            // The age of a check-in before a reboot is known by the wall clock alone: then the watch room goes by the phase's own interval (I11).
            var told = watch.BootId == turn.Moment.BootId ? SecondsTo(sooner, watch) : interval;
            turn.Add(new CheckInSooner(sooner, phase, told, margin));
        }
    }

    private static int SecondsTo(Ticks due, CheckInWatch watch) => Math.Max(1, (int)(due - watch.Made).SecondsRoundedUp);

    private static (WorkPhase Phase, int Interval, int Margin) TimesOf(Job job, CheckInPolicy policy)
    {
        var times = policy.Of(WorkPhases.Of(job));
        return (times.Phase, job.HasSecondPerson ? times.IntervalSeconds : times.AloneSeconds, times.MarginSeconds);
    }

    /// <summary>When it began, by the clock that counts in full; what is dated before the last check-in, or into another running period, counts from that one.</summary>
    private static Ticks BeganAt(Turn turn, Answer answer)
    {
        var now = turn.Job.Clock.FullAt(turn.Moment);
        var last = turn.Job.CheckIn!.Made;
        if (answer.Began.BootId != turn.Moment.BootId || answer.Began.Boot > turn.Moment.Boot)
        {
            return last;
        }

        var began = now - (turn.Moment.Boot - answer.Began.Boot);
        return began > last ? began : last;
    }

    private static CheckInPhrase? WordingOf(Phrase phrase) => phrase switch
    {
        Phrase.AllRight => CheckInPhrase.AllRight,
        Phrase.StatusAllRight => CheckInPhrase.StatusAllRight,
        _ => null,
    };
}
