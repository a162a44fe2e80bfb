using System.Collections.Immutable;
using Companion.Domain.CheckIn;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Screens.Showing;

/// <summary>
/// The countdowns of a job at a moment. Every one is computed from the recorded start and the clocks, never counted down, so that no missed
/// turn of the screen can make it wrong (I2).
/// </summary>
public static class Countdowns
{
    /// <summary>All countdowns, the one that ends first on top, those that are over last.</summary>
    public static ImmutableArray<Countdown> Of(Job job, Moment now)
    {
        var counted = job.Clock.CountedAt(now);
        var waits = job.Waits.Values.Select(run => Wait(job, run, counted));
        return [.. waits.Concat(Watches(job, now)).OrderBy(Rank).ThenBy(countdown => countdown.Left).ThenBy(countdown => countdown.Name, StringComparer.Ordinal)];
    }

    private static int Rank(Countdown countdown) => countdown.State switch
    {
        CountdownState.Running or CountdownState.InDoubt or CountdownState.Watch or CountdownState.CheckIn => 0,
        CountdownState.Over => 1,
        _ => 2,
    };

    private static Countdown Wait(Job job, WaitRun run, Ticks counted) =>
        Countdown.Of(run.Rule.Name, run.Remaining(counted), Ticks.OfSeconds(run.Rule.Seconds), StateOf(job, run));

    private static CountdownState StateOf(Job job, WaitRun run)
    {
        if (job.Doubt)
        {
            return CountdownState.InDoubt;
        }

        if (run.CompletedAt is null)
        {
            return CountdownState.Running;
        }

        var places = job.Way?.TestPlaces.Where(place => place.Covers(run.Rule.Circuit)).ToList() ?? [];
        return places.Count > 0 && places.TrueForAll(place => job.Proofs.ContainsKey(place.Id)) ? CountdownState.Proved : CountdownState.Over;
    }

    private static IEnumerable<Countdown> Watches(Job job, Moment now)
    {
        if (job.Test is { } test && job.Sheet?.TestPlaces.FirstOrDefault(place => place.Id == test.Place) is { } tested)
        {
            var window = Ticks.OfSeconds(tested.WindowSeconds);
            yield return Countdown.Of($"dead test, {tested.Name}", Left(test.StartedBoot + window, now), window, CountdownState.Watch);
        }

        if (job.CheckIn is { Stage: CheckInStage.Asked or CheckInStage.Due } watch)
        {
            var due = watch.Stage == CheckInStage.Asked ? watch.Due : watch.Overdue;
            var whole = Ticks.OfSeconds(watch.Stage == CheckInStage.Asked ? watch.Policy.LeadSeconds : watch.MarginSeconds);
            yield return Countdown.Of("check-in", LeftOf(due - job.Clock.FullAt(now)), whole, CountdownState.CheckIn);
        }

        if (job.Clearance is { } clearance && job.Sheet is { } sheet)
        {
            yield return Countdown.Of("next test", Left(clearance.RetestDue, now), Ticks.OfSeconds(sheet.RetestMinutes * 60L), CountdownState.Watch);
        }
    }

    private static Ticks Left(Ticks due, Moment now) => LeftOf(due - now.Boot);

    private static Ticks LeftOf(Ticks left) => left < Ticks.Zero ? Ticks.Zero : left;
}
