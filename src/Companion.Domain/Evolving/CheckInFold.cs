using Companion.Domain.CheckIn;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Evolving;

/// <summary>The part of the fold that concerns the watch over the technician and the link to the watch room.</summary>
internal static class CheckInFold
{
    /// <summary>The watch of a job that is opened now: opening it is the first check-in.</summary>
    public static CheckInWatch? Open(JobOpened opened, long sequence, Moment moment)
    {
        if (opened.Watch is not { } policy)
        {
            return null;
        }

        var times = policy.Of(WorkPhase.Travelling);
        var interval = opened.SecondPerson is null ? times.AloneSeconds : times.IntervalSeconds;
        return new CheckInWatch
        {
            Policy = Enum.TryParse<CheckInPhrase>(opened.Quiet?.Text, out var quiet) ? policy with { Quiet = quiet } : policy,
            Sequence = sequence,
            Made = Ticks.Zero,
            BootId = moment.BootId,
            Phase = WorkPhase.Travelling,
            IntervalSeconds = interval,
            MarginSeconds = times.MarginSeconds,
            Due = Ticks.OfSeconds(interval),
        };
    }

    public static Job Apply(Job job, JobEvent happened, long sequence, Moment moment)
    {
        var linked = job.Link is { } link ? job with { Link = Apply(link, job, happened) } : job;
        return linked.CheckIn is { } watch ? linked with { CheckIn = Apply(watch, linked, happened, sequence, moment) } : linked;
    }

    private static WatchroomLink Apply(WatchroomLink link, Job job, JobEvent happened) => happened switch
    {
        LinkHeard => link with { Heard = job.Clock.Full },
        NoSignalArranged => link with { Arranged = true },
        TesterProved => link with { Begun = true },
        PointOpened opened => link with { Begun = link.Begun || job.Way!.Steps.Any(step => step is { Exposes: true } && step.Point == opened.Point) },
        _ => link,
    };

    private static CheckInWatch Apply(CheckInWatch watch, Job job, JobEvent happened, long sequence, Moment moment) => happened switch
    {
        CheckInAsked asked => watch with { Stage = asked.Stage },
        CheckInUnanswered => watch with { Stage = CheckInStage.Unanswered },
        CheckInSooner sooner => watch with
        {
            Due = sooner.Due,
            Phase = sooner.Phase,
            IntervalSeconds = sooner.IntervalSeconds,
            MarginSeconds = sooner.MarginSeconds,
        },
        CheckInMade made => Calling(watch, made.Kind.Text == CheckInMade.QuietKind ? OutsideCallKind.Quiet : null, job, sequence) with
        {
            Sequence = sequence,
            Made = made.Made,
            BootId = made.Made == watch.Made ? watch.BootId : moment.BootId,
            Phase = made.Phase,
            IntervalSeconds = made.IntervalSeconds,
            MarginSeconds = made.MarginSeconds,
            Due = made.Due,
            Stage = CheckInStage.Quiet,
        },
        AlertRaised { Kind: AlarmKind.Help } or StandOffBegun => Calling(watch, OutsideCallKind.Help, job, sequence),
        CallTaken taken => watch with
        {
            Calls = [.. watch.Calls.Select(call => call.Sequence == taken.Call ? call with { Taken = true } : call)],
        },
        _ => watch,
    };

    private static CheckInWatch Calling(CheckInWatch watch, OutsideCallKind? kind, Job job, long sequence) => kind is { } called
        ? watch with { Calls = watch.Calls.Add(new OutsideCall(sequence, called, job.Clock.Full)) }
        : watch;
}
