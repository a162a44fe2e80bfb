using System.Collections.Immutable;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Speaking;

namespace Companion.Domain.HandingOver;

/// <summary>
/// What the next person must know of the vehicle, from the record alone: how every point stands and whose lock is on it, what was
/// measured last and when, what stays live, and what else can hurt. It never says that a battery is de-energised (NTSB SR-20/01, as reported).
/// </summary>
/// <param name="Standing">In one sentence, how the vehicle is handed over.</param>
/// <param name="Points">One line for each point of the sheet.</param>
/// <param name="Tests">One line for each test place, and one for the last reading of each pair.</param>
/// <param name="Hazards">What stays live and what else remains.</param>
public sealed record HandOverSheet(
    string Standing, ImmutableArray<string> Points, ImmutableArray<string> Tests, ImmutableArray<string> Hazards)
{
    /// <summary>The sheet of a job as it stands. Total; of a job without a shutdown sheet it holds no point.</summary>
    public static HandOverSheet Of(Job job) => new(
        StandingOf(job),
        job.Sheet is { } sheet ? [.. sheet.Points.Select(point => PointLine(job, point))] : [],
        job.Way is { } way ? [.. way.TestPlaces.SelectMany(place => TestLines(job, place))] : [],
        [.. HazardsOf(job)]);

    private static string StandingOf(Job job) => job switch
    {
        { StandOff: not null } => "Not isolated. Stand off.",
        { Halt: { Final: true } halt } => $"Not isolated: treat as live. {halt.Reason}",
        { PuttingBack: true } => PuttingBack.IsComplete(job)
            ? "Put back: every lock is removed and every point closed. The vehicle is live."
            : "Partly put back: treat as live.",
        { Clearance: not null, Ended: true } =>
            "Vehicle isolated and marked when it was handed over. The battery is not de-energised. Nobody is clear to work: test again first.",
        { Clearance: { } clearance } => $"Vehicle isolated and marked, clear to work since {Wording.At(job, clearance.Wall)}. The battery is not de-energised.",
        _ => "Not isolated: treat as live.",
    };

    private static string PointLine(Job job, IsolationPoint point)
    {
        var off = job.LocksExchanged ? " came off for one of whoever took over" : string.Empty;
        var locks = LockRegister.At(job, point.Id).Select(fitted => $"lock {fitted.Number} of {fitted.Holder}{off}").ToList();
        return $"{Sentence(point.Name)}: {StateOf(job, point.Id)}{(locks.Count > 0 ? $", {string.Join(", ", locks)}" : string.Empty)}.";
    }

    /// <summary>What was done to a point counts only as far as somebody watched since.</summary>
    private static string StateOf(Job job, PointId point)
    {
        var since = job.Doubt ? ", not confirmed since" : string.Empty;
        return job.Points.ContainsKey(point) ? $"{(job.Doubt ? "opened" : "open")}{since}"
            : job.Closed.Contains(point) ? $"closed{since}"
            : "not known to be open";
    }

    private static IEnumerable<string> TestLines(Job job, TestPlace place)
    {
        var proof = job.CountingProof(place.Id);
        yield return proof is not null
            ? $"{Sentence(place.Name)}: proved dead at {Wording.At(job, proof.Wall)}."
            : $"{Sentence(place.Name)}: not proved dead, or no longer.";
        var last = place.Pairs.Select(pair => Shown(job, pair, job.LastReadings.FirstOrDefault(
            reading => reading.Taken.TestPlace == place.Id && reading.Taken.Pair == pair.Id))).OfType<string>().ToList();
        if (last.Count > 0)
        {
            yield return $"{(proof is not null ? "Last readings" : "Last readings, which prove nothing")}: {string.Join("; ", last)}.";
        }
    }

    private static string? Shown(Job job, ProbePair pair, LastReading? last) => last is null
        ? null
        : $"{pair.Name} {(last.Taken.Purpose == ReadingPurpose.Watching ? "while watching " : string.Empty)}{(last.Taken.Below is { } below ? $"below {below}" : last.Taken.Volts)} V {last.Taken.Kind.ToString().ToUpperInvariant()} at {Wording.At(job, last.Wall)}";

    private static IEnumerable<string> HazardsOf(Job job)
    {
        if (job.Sheet is { } sheet)
        {
            yield return $"Stays live: {sheet.StaysLive}.";
            if (!PuttingBack.IsComplete(job))
            {
                yield return "Moving: driven wheels off the ground; a turned wheel undoes what was proved."
                    + (sheet.Moving is { } exception ? $" By the maker's method: {exception}." : string.Empty);
            }
        }

        foreach (var item in job.Scene?.Hazards ?? [])
        {
            yield return $"Yes to: {item.Name}.";
        }

        if (job.StandOff is { } off)
        {
            yield return SceneWording.Parking(off);
        }

        if (job.Doubt)
        {
            yield return "After a gap nobody has confirmed that nothing was touched meanwhile.";
        }

        foreach (var alarm in job.Alarms)
        {
            yield return $"Not answered: {alarm.Text}";
        }

        if (job.Linked is { } other)
        {
            yield return $"Another vehicle of the same event: job {other}.";
        }

        if (!job.Locks.IsEmpty)
        {
            yield return "Only who fitted a lock removes it, or the employer's procedure does.";
        }

        if (!job.PuttingBack)
        {
            yield return "Keys and transponders stay away from the vehicle. Labels stay on until whoever takes over takes them off.";
        }
    }

    private static string Sentence(string name) => $"{char.ToUpperInvariant(name[0])}{name[1..]}";
}
