using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Domain.Deciding;

/// <summary>
/// The guard of "proved dead" (I1, I3). It looks at the whole state again, whatever the order of questions already ensured:
/// two independent reasons must fail before a claim is accepted too early.
/// </summary>
internal static class DeadGuard
{
    /// <summary>Why "proved dead" was refused when it was not yet the turn of the claim.</summary>
    public static Refusal NotYet(Job job, Ticks counted)
    {
        if (job.Way is not { } way)
        {
            return new Refusal("Refused: not proved dead. No sheet is chosen.");
        }

        if (job.PuttingBack)
        {
            return new Refusal("Refused: not proved dead. The vehicle is being put back.");
        }

        var place = way.TestPlaces.FirstOrDefault(candidate => !job.Proofs.ContainsKey(candidate.Id));
        if (place is null)
        {
            return new Refusal("Every test place is proved dead already.");
        }

        return Missing(job, place, counted)
            ?? new Refusal($"Refused: not proved dead. {Speaking.Wording.Missing(job, Asking.Needs.Of(job))}", 0, place.Id);
    }

    /// <summary>What is missing before the claim at a place can be accepted; null when nothing is.</summary>
    public static Refusal? Missing(Job job, TestPlace place, Ticks counted) =>
        NotReady(job, place, counted) ?? NotTested(job, place);

    /// <summary>What is missing before the dead test at a place may begin: openings and waits.</summary>
    public static Refusal? NotReady(Job job, TestPlace place, Ticks counted)
    {
        var way = job.Way!;
        if (job.Doubt || job.Halt is not null || job.Alarm is not null)
        {
            return new Refusal("Refused: not proved dead. First answer the warning or the question that is open.", 0, place.Id);
        }

        var closed = way.PointsOf(place).Where(point => !job.Points.ContainsKey(point.Id)).Select(point => point.Name).ToList();
        if (closed.Count > 0)
        {
            return new Refusal($"Refused: not proved dead. Not open: {string.Join(", ", closed)}.", 0, place.Id);
        }

        var waits = way.WaitsOf(place).ToList();
        var missing = waits.Where(wait => !Counts(job, way, wait)).Select(wait => wait.Name).ToList();
        if (missing.Count > 0)
        {
            return new Refusal($"Refused: not proved dead. The wait has not started: {string.Join(", ", missing)}.", 0, place.Id);
        }

        return StillRunning(job, place, waits, counted) ?? Unlocked(job, place);
    }

    /// <summary>What is not secured against being closed again proves nothing (EN 50110-1 6.2, as reported: the second of the five rules).</summary>
    private static Refusal? Unlocked(Job job, TestPlace place)
    {
        var bare = job.Way!.PointsOf(place).Where(point => point.Lockable && LockRegister.Lacking(job, point.Id) is not null)
            .Select(point => point.Name).ToList();
        return bare.Count == 0 ? null : new Refusal($"Refused: not proved dead. Not locked: {string.Join(", ", bare)}.", 0, place.Id);
    }

    private static Refusal? StillRunning(Job job, TestPlace place, List<WaitRule> waits, Ticks counted)
    {
        var running = waits.Where(wait => job.Waits[wait.Id].CompletedAt is null).ToList();
        if (running.Count == 0)
        {
            return null;
        }

        var longest = running.MaxBy(wait => job.Waits[wait.Id].Remaining(counted).Nanoseconds)!;
        var seconds = Math.Max(1, job.Waits[longest.Id].Remaining(counted).SecondsRoundedUp);
        return new Refusal($"Refused: not proved dead. {longest.Name}, {seconds} {(seconds == 1 ? "second" : "seconds")} left.", seconds, place.Id);
    }

    /// <summary>A wait counts only if it started after the last opening that feeds its circuit.</summary>
    private static bool Counts(Job job, SheetWay way, WaitRule wait) =>
        job.Waits.TryGetValue(wait.Id, out var run)
        && way.Feeders(wait.Circuit).All(point => job.Points.TryGetValue(point.Id, out var state) && state.OpenedAt < run.StartedAt);

    private static Refusal? NotTested(Job job, TestPlace place)
    {
        var test = job.Test?.Place == place.Id ? job.Test : null;
        var unproved = TestItems.Kinds(place).Where(kind => test is null || !test.Before.Contains(kind)).ToList();
        if (unproved.Count > 0)
        {
            return new Refusal("Refused: not proved dead. The tester has not been proved on the known source.", 0, place.Id);
        }

        var untested = place.Pairs.Where(pair => !test!.Readings.ContainsKey(pair.Id)).Select(pair => pair.Name).ToList();
        if (untested.Count > 0)
        {
            return new Refusal($"Refused: not proved dead. Not tested: {string.Join(", ", untested)}.", 0, place.Id);
        }

        if (TestItems.Kinds(place).Any(kind => !test!.After.Contains(kind)))
        {
            return new Refusal("Refused: not proved dead. The tester has not been proved again.", 0, place.Id);
        }

        return Sound(job, place, test!) ? null : new Refusal("Refused: not proved dead. The readings do not count. Test again.", 0, place.Id);
    }

    /// <summary>Every reading within its limit, of its pair's kind, taken after the last wait ended.</summary>
    private static bool Sound(Job job, TestPlace place, DeadTest test)
    {
        var waitsOver = job.Way!.WaitsOf(place).Select(wait => job.Waits[wait.Id].CompletedAt ?? long.MaxValue).DefaultIfEmpty(0).Max();
        return place.Pairs.All(pair =>
        {
            var taken = test.Readings[pair.Id];
            return taken.Sequence > waitsOver
                && taken.Reading.Kind == pair.Kind
                && VoltageLimits.Passes(taken.Reading.Volts, place.Limit(pair.Kind));
        });
    }
}
