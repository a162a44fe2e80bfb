using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Evolving;

/// <summary>
/// The part of the fold that concerns watching readings. Whatever makes a wait begin, or puts in doubt what happened meanwhile, makes the
/// earlier readings worthless.
/// </summary>
internal static class WatchFold
{
    public static Job Apply(Job job, JobEvent happened, long sequence, Moment moment) => happened switch
    {
        ReadingTaken { Purpose: ReadingPurpose.Watching } taken => Watch(job, taken, sequence, moment),
        WaitStarted started => Forget(job, started.Circuit),
        WaitVoided voided => Forget(job, voided.Circuit),
        DeadProved proved => job with { Watched = job.Watched.RemoveAll(watched => watched.Place == proved.TestPlace) },
        ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume } or SheetPinned or WayTaken or DisturbanceReported => job with { Watched = [] },
        _ => job,
    };

    private static Job Watch(Job job, ReadingTaken taken, long sequence, Moment moment)
    {
        if (taken.Volts is not { } volts || !Counts(job, taken, moment))
        {
            return job;
        }

        var kept = job.Watched.Length < Watched.MostKept ? job.Watched : job.Watched.RemoveAt(0);
        return job with
        {
            Watched = kept.Add(new Watched(taken.TestPlace, taken.Pair, volts, taken.Kind, moment.Boot, job.Clock.Counted, sequence)),
        };
    }

    /// <summary>Every wait of the place has started, the place is not proved, and time has passed: twice the same moment is one reading.</summary>
    private static bool Counts(Job job, ReadingTaken taken, Moment moment)
    {
        if (job.Way?.TestPlaces.FirstOrDefault(place => place.Id == taken.TestPlace) is not { } place || job.Proofs.ContainsKey(place.Id))
        {
            return false;
        }

        var waits = job.Way.WaitsOf(place).ToList();
        return waits.Count > 0
            && waits.All(wait => job.Waits.ContainsKey(wait.Id))
            && job.Watched.All(watched => watched.Boot < moment.Boot);
    }

    private static Job Forget(Job job, CircuitId circuit) => job.Watched.IsEmpty
        ? job
        : job with
        {
            Watched = job.Watched.RemoveAll(watched =>
                job.Way?.TestPlaces.FirstOrDefault(place => place.Id == watched.Place) is not { } place || place.Covers(circuit)),
        };
}
