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
        { Clearance: { } clearance } => $"Vehicle isolated and marked, clear to work since {Clock(clearance.Wall)}. The battery is not de-energised.",
        _ => "Not isolated: treat as live.",
    };

    private static string PointLine(Job job, IsolationPoint point)
    {
        var locks = LockRegister.At(job, point.Id).Select(fitted => $"lock {fitted.Number} of {fitted.Holder}").ToList();
        var state = job.Points.ContainsKey(point.Id) ? "open" : job.Closed.Contains(point.Id) ? "closed" : "not known to be open";
        return $"{Sentence(point.Name)}: {state}{(locks.Count > 0 ? $", {string.Join(", ", locks)}" : string.Empty)}.";
    }

    private static IEnumerable<string> TestLines(Job job, TestPlace place)
    {
        yield return job.Proofs.TryGetValue(place.Id, out var proof)
            ? $"{Sentence(place.Name)}: proved dead at {Clock(proof.Wall)}."
            : $"{Sentence(place.Name)}: not proved dead, or no longer.";
        var last = place.Pairs.Select(pair => Shown(pair, job.LastReadings.FirstOrDefault(
            reading => reading.Taken.TestPlace == place.Id && reading.Taken.Pair == pair.Id))).OfType<string>().ToList();
        if (last.Count > 0)
        {
            yield return $"{(job.Proofs.ContainsKey(place.Id) ? "Last readings" : "Last readings, which prove nothing")}: {string.Join("; ", last)}.";
        }
    }

    private static string? Shown(ProbePair pair, LastReading? last) => last is null
        ? null
        : $"{pair.Name} {(last.Taken.Purpose == ReadingPurpose.Watching ? "while watching " : string.Empty)}{(last.Taken.Below is { } below ? $"below {below}" : last.Taken.Volts)} V {last.Taken.Kind.ToString().ToUpperInvariant()} at {Clock(last.Wall)}";

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

    private static string Clock(DateTimeOffset at) => at.ToString("HH:mm", null);

    private static string Sentence(string name) => $"{char.ToUpperInvariant(name[0])}{name[1..]}";
}
