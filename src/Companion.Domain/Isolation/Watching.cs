using Companion.Domain.Electrical;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Domain.Isolation;

/// <summary>
/// Which place is watched and what its readings say. A function of the job alone, so that rules, prompts and screens say the same and no
/// verdict changes because time passed.
/// </summary>
public static class Watching
{
    /// <summary>The first place that is not proved dead; null when there is none.</summary>
    public static TestPlace? PlaceOf(Job job) => job.Way?.TestPlaces.FirstOrDefault(place => !job.Proofs.ContainsKey(place.Id));

    /// <summary>The readings of the watched place, oldest first.</summary>
    public static IReadOnlyList<Watched> SeriesOf(Job job) =>
        PlaceOf(job) is { } place ? [.. job.Watched.Where(watched => watched.Place == place.Id && watched.Pair == place.Pairs[0].Id)] : [];

    /// <summary>What they say; null when there are none.</summary>
    public static DischargeFinding? FindingOf(Job job)
    {
        var series = SeriesOf(job);
        return series.Count == 0
            ? null
            : DischargeWatch.Judge([.. series.Select(watched => new TimedVolts(watched.Boot, watched.Volts))], BoundsOf(job, PlaceOf(job)!, series[^1]));
    }

    /// <summary>From a reading to the end of the longest wait of its place.</summary>
    public static Ticks LeftAt(Job job, TestPlace place, Watched reading)
    {
        var left = job.Way!.WaitsOf(place)
            .Select(wait => job.Waits.TryGetValue(wait.Id, out var run) ? run.StartedCounted + Ticks.OfSeconds(run.Rule.Seconds) - reading.Counted : Ticks.Zero)
            .DefaultIfEmpty(Ticks.Zero)
            .Max();
        return left < Ticks.Zero ? Ticks.Zero : left;
    }

    private static DischargeBounds BoundsOf(Job job, TestPlace place, Watched last) =>
        new(place.Limit(last.Kind), job.Sheet!.FloorVolts, LeftAt(job, place, last), last.Kind, MicrofaradsOf(job.Sheet, place));

    /// <summary>What one probe sees of several charged circuits is not known: only a single named capacitance is used.</summary>
    private static int? MicrofaradsOf(Sheet sheet, TestPlace place)
    {
        var named = sheet.Circuits.Where(circuit => circuit.Microfarads is not null && place.Covers(circuit.Id)).Take(2).ToList();
        return named.Count == 1 ? named[0].Microfarads : null;
    }
}
