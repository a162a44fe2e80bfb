using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Time;

namespace Companion.Domain.Deciding;

/// <summary>
/// The rules. Pure and total: the same job, command, moment and draw give the same decision, and no input throws. Time is settled
/// first (gaps, waits that are over, lapses), then the command, then the waits that may start, then the next question.
/// </summary>
public static class Decide
{
    /// <summary>What becomes of a command.</summary>
    /// <param name="job">The job; null when none is open.</param>
    /// <param name="command">The command.</param>
    /// <param name="moment">When it happened.</param>
    /// <param name="draw">A random number for a fresh code, should one be needed.</param>
    public static Decision On(Job? job, Command command, Moment moment, int draw)
    {
        if (command is OpenJob open && job is not { Ended: false })
        {
            return Open(open, moment, draw);
        }

        if (command is KeepSound sound && (job is null || job.Ended || job.Id != sound.JobId))
        {
            // The last part is whole only after the end; one of another job has nowhere to go.
            return new Accepted(job?.Id == sound.JobId ? [sound.Part] : []);
        }

        if (job is null || job.Ended)
        {
            return command is Tick or Restarted or PromptEnded or DeviceChanged or ViewGone or Unheard or TakeCall or LinkAnswered
                ? new Accepted([])
                : new Refused("No job is open. Open a job first.", 0, []);
        }

        var turn = new Turn(job, moment, draw);
        TimeRules.Settle(turn, command);
        QuestionRules.Ask(turn);
        var refusal = Handle(turn, command);
        WaitRules.StartDue(turn);
        QuestionRules.Ask(turn);
        return refusal is null ? new Accepted(turn.Events) : new Refused(refusal.Reason, refusal.RemainingSeconds, turn.Events);
    }

    private static Refusal? Handle(Turn turn, Command command)
    {
        switch (command)
        {
            case Answer answer:
                return AnswerRules.Handle(turn, answer);
            case OpenJob:
                return EndRules.StillOpen(turn);
            case CloseJob close:
                return EndRules.Close(turn, close);
            case Unheard unheard:
                turn.Add(new SpeechHeard(new Personal(unheard.Text), null, false, unheard.Reason, unheard.Confidence));
                return null;
            case PromptEnded ended:
                turn.Add(ended.Played ? new PromptSpoken(ended.Text) : new PromptFailed(ended.Text, ended.Reason));
                return null;
            case DeviceChanged changed:
                turn.Add(changed.Present ? new DeviceReturned(changed.Which) : new DeviceLost(changed.Which, changed.Reason));
                return null;
            case ViewGone gone:
                turn.Add(new ViewLost(gone.Which));
                return null;
            case LinkAnswered:
                LinkRules.Heard(turn);
                return null;
            case KeepSound keep:
                turn.Add(keep.Part);
                return null;
            case TakeCall take:
                CheckInRules.Take(turn, take);
                return null;
            default:
                return null;
        }
    }

    private static Decision Open(OpenJob open, Moment moment, int draw)
    {
        var lacking = KitRules.Missing(open.Kit);
        if (lacking.Length > 0)
        {
            return new Refused($"The kit lacks: {string.Join(", ", lacking)}. Complete it before anyone walks to the vehicle.", 0, []);
        }

        var opened = new JobOpened(
            open.Technician,
            new Personal(open.Name),
            open.SecondPerson is null ? null : new Personal(open.SecondPerson),
            open.Rehearsal,
            open.Policy,
            open.Rating,
            open.Kit,
            open.LatestWall,
            moment.Awake,
            open.Place is null ? null : new Personal(open.Place),
            open.Arrival,
            open.Linked,
            open.Watch is null ? null : open.Watch with { Quiet = null },
            open.Watch?.Quiet is { } quiet ? new Personal(quiet.ToString()) : null,
            open.HasWatchroom);
        var turn = new Turn(Evolve.Apply(null, opened, open.JobId, 1, moment)!, moment, draw);
        if (open.Sound is { } sound)
        {
            turn.Add(new SoundAnnounced(sound.RetentionDays, new Personal(sound.ApprovedBy)));
        }

        QuestionRules.Ask(turn);
        return new Accepted([opened, .. turn.Events]);
    }
}
