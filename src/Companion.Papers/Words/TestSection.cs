using Companion.Domain;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Review;

namespace Companion.Papers.Words;

/// <summary>What was measured, when, by whom and with which tester, and what it proved as far as the record shows it.</summary>
internal static class TestSection
{
    public static PaperSection Of(RecordEnd end) => new("Tests and last readings", [.. Rows(end)]);

    /// <summary>What a test place stands at, in one sentence.</summary>
    public static string Words(RecordEnd end, TestPlace place) => end.Job!.CountingProof(place.Id) is { } proof
        ? end.Whole
            ? $"Proved dead {end.Time(proof.Wall)} (entry {PaperText.Number(proof.At)})."
            : $"Recorded as proved dead {end.Time(proof.Wall)}, but the record is not whole: not proved."
        : "Not proved dead, or no longer. Treat as live.";

    private static IEnumerable<PaperRow> Rows(RecordEnd end)
    {
        if (end.Job is not { Way: { } way } job)
        {
            yield return PaperRow.Of("No test place is known: no shutdown sheet is in this record.");
            yield break;
        }

        var takers = Takers(end);
        foreach (var place in way.TestPlaces)
        {
            yield return new PaperRow(PaperText.Sentence(place.Name), Words(end, place));
            yield return new PaperRow("tester on its source", $"{PaperText.Sentence(Proving(end, place, ProvingPhase.Before))}; {Proving(end, place, ProvingPhase.After)}.", true);
            foreach (var pair in place.Pairs)
            {
                yield return new PaperRow(pair.Name, takers.LastOrDefault(taker => taker.Taken.TestPlace == place.Id && taker.Taken.Pair == pair.Id) is { } last
                    ? $"{Shown(last.Taken)} at {end.When(last.Entry.Entry.Time)}, limit {place.Limit(last.Taken.Kind)} V, {PaperText.Crew(last.Technician)}, {TesterWords(job, last.Taken.Tester)}, entry {PaperText.Number(last.Entry.Sequence)}{Purpose(end, place, last.Taken)}."
                    : "No reading.", true);
            }
        }
    }

    /// <summary>The name of a test place, or its id where no sheet tells.</summary>
    public static string Place(RecordEnd end, TestPlaceId id) => PaperText.Sentence(Found(end, id)?.Name ?? id.Value);

    /// <summary>The name of a pair, or its id where no sheet tells.</summary>
    public static string Pair(RecordEnd end, TestPlaceId place, PairId id) => Found(end, place)?.Pairs.FirstOrDefault(pair => pair.Id == id)?.Name ?? id.Value;

    /// <summary>What the tester showed.</summary>
    public static string Shown(ReadingTaken taken) =>
        $"{(taken.Below is { } below ? $"below {below}" : taken.Volts?.ToString() ?? "?")} V {taken.Kind.ToString().ToUpperInvariant()}";

    /// <summary>Which tester, by the name and the number that are marked on it.</summary>
    public static string TesterWords(Job job, KitId tester) => job.Kit.FirstOrDefault(item => item.Id == tester) is { } item
        ? $"{item.Name}{(item.Serial is { } serial ? $" no. {serial}" : string.Empty)}"
        : $"tester {tester}";

    private static TestPlace? Found(RecordEnd end, TestPlaceId id) => end.Job?.Sheet?.TestPlaces.FirstOrDefault(place => place.Id == id);

    private static string Proving(RecordEnd end, TestPlace place, ProvingPhase phase)
    {
        var when = phase == ProvingPhase.Before ? "before the readings" : "after";
        return LastProving(end, place, phase) is { Happened: TesterProved last } entry
            ? $"{when} {last.Indicated} V {last.Kind.ToString().ToUpperInvariant()} at {end.When(entry.Entry.Time)}{(last.Ok ? string.Empty : ", which was not right")}"
            : $"{when} not proved in the last test";
    }

    /// <summary>A proving after the readings of an earlier test is none of the last one.</summary>
    private static RecordedEntry? LastProving(RecordEnd end, TestPlace place, ProvingPhase phase)
    {
        var last = end.Record.Entries.LastOrDefault(entry => entry.Happened is TesterProved proved && proved.TestPlace == place.Id && proved.Phase == phase);
        return phase == ProvingPhase.After && last?.Sequence < LastProving(end, place, ProvingPhase.Before)?.Sequence ? null : last;
    }

    private static string Purpose(RecordEnd end, TestPlace place, ReadingTaken taken) =>
        taken.Purpose == ReadingPurpose.Watching ? "; taken while watching, proves nothing"
        : end.ProofOf(place.Id) is not null ? string.Empty
        : "; proves nothing";

    private static List<Taker> Takers(RecordEnd end)
    {
        var found = new List<Taker>();
        var technician = "not known";
        foreach (var entry in end.Record.Entries)
        {
            technician = entry.Happened switch
            {
                JobOpened opened => opened.Technician,
                PersonChanged { Change: PersonChange.TookOver } changed => changed.Person,
                _ => technician,
            };
            if (entry.Happened is ReadingTaken taken)
            {
                found.Add(new Taker(entry, taken, technician));
            }
        }

        return found;
    }

    private sealed record Taker(RecordedEntry Entry, ReadingTaken Taken, string Technician);
}
