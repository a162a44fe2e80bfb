using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Evolving;

/// <summary>The fold: the state of a job is nothing but its entries, one after another (I13). Total: it never refuses an entry.</summary>
public static class Evolve
{
    /// <summary>The job after one more entry.</summary>
    /// <param name="job">The job so far; null before its first entry.</param>
    /// <param name="happened">The entry's event.</param>
    /// <param name="chain">The chain's name, which is the job's id.</param>
    /// <param name="sequence">The entry's sequence.</param>
    /// <param name="moment">The entry's moment. CLOCK_MONOTONIC is taken from the event, not from here: entries do not carry it.</param>
    public static Job? Apply(Job? job, JobEvent happened, string chain, long sequence, Moment moment)
    {
        if (happened is JobOpened opened)
        {
            return Open(opened, chain, sequence, moment);
        }

        if (job is null)
        {
            return null;
        }

        var clocked = job with { Sequence = sequence, Clock = Advance(job, happened, moment) };
        var settled = SceneFold.Apply(JobFold.Apply(clocked, happened), happened, sequence, moment);
        var isolated = SecuringFold.Apply(IsolationFold.Apply(settled, happened, sequence, moment), happened, sequence, moment);
        var watched = CheckInFold.Apply(WatchFold.Apply(isolated, happened, sequence, moment), happened, sequence, moment);
        return AnswerFold.Apply(watched, happened, sequence, moment);
    }

    private static Job Open(JobOpened opened, string chain, long sequence, Moment moment) => new()
    {
        Id = chain,
        Sequence = sequence,
        Clock = JobClock.Begin(moment with { Awake = opened.Awake }, opened.LatestWall),
        Technician = opened.Technician,
        Present = opened.SecondPerson is null ? [] : [Job.Unnumbered],
        Workers = [opened.Technician],
        Linked = opened.Linked,
        Rehearsal = opened.Rehearsal,
        Policy = opened.Policy,
        Rating = opened.Rating,
        Kit = opened.Kit,
        Place = opened.Place?.Text,
        Link = opened.HasWatchroom ? WatchroomLink.None : null,
        CheckIn = CheckInFold.Open(opened, sequence, moment),
        Scene = opened.Arrival is { } list ? new Scene(list) : null,
    };

    private static JobClock Advance(Job job, JobEvent happened, Moment moment) => happened is ClockAnchored anchor
        ? job.Clock.Anchor(moment, anchor.Awake, anchor.Why is AnchorReason.Start or AnchorReason.Resume, job.HasRunningWait)
        : job.Clock.Advance(moment, job.HasRunningWait);
}
