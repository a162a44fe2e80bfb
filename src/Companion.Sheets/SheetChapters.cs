using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain;
using Companion.Domain.Sheets;
using Companion.Domain.Speaking;

namespace Companion.Sheets;

/// <summary>A whole sheet in words, for reading against the maker's document.</summary>
public static class SheetChapters
{
    /// <summary>The chapters in order: what it is, where energy is opened, waits, test places, disturbances, every way.</summary>
    public static ImmutableArray<SheetChapter> Of(Sheet sheet) =>
    [
        new($"Sheet {sheet.Number}: {sheet.Vehicle}", [.. Head(sheet)]),
        new("Isolation points", [.. sheet.Points.Select(point => new SheetRow(
            point.Id.Value, $"{point.Name}: feeds {Names(sheet, point.Circuits)}; {(point.Lockable ? "lock and tag" : "no lock")}"))]),
        .. Capacitances(sheet),
        new("Waits", [.. sheet.Waits.Select(wait => new SheetRow(
            wait.Id.Value,
            $"{wait.Name}: {Duration(wait.Seconds)} after the last point feeding {Names(sheet, [wait.Circuit])} is open"))]),
        new("Test places", [.. sheet.TestPlaces.SelectMany(place => Place(sheet, place))]),
        new("Disturbances (any not listed voids everything)", [.. sheet.Disturbances.Select(rule => Disturbed(sheet, rule))]),
        Way(sheet, "Steps", sheet.Steps),
        .. sheet.Alternatives.Select(way => Way(
            sheet, $"Way {way.Name}, when {string.Join(" or ", way.For)} cannot be done", way.Steps)),
    ];

    private static IEnumerable<SheetChapter> Capacitances(Sheet sheet)
    {
        var charged = sheet.Circuits.Where(circuit => circuit.Microfarads is not null).ToList();
        return charged.Count == 0
            ? []
            : [new("Capacitances", [.. charged.Select(circuit => new SheetRow(circuit.Id.Value, $"{circuit.Name}: {circuit.Microfarads} microfarads"))])];
    }

    private static IEnumerable<SheetRow> Head(Sheet sheet)
    {
        yield return new("id", $"{sheet.Id}, edition {sheet.Edition}, approved by {sheet.Approver}");
        yield return new("marking", sheet.Marking);
        yield return new("source", $"{sheet.Source.Document}, edition {sheet.Source.Edition}");
        if (sheet.Source.Attachment is { } attachment)
        {
            yield return new("attachment", attachment);
        }

        yield return new("review by", sheet.Source.ReviewBy.ToString("d MMMM yyyy", CultureInfo.InvariantCulture));
        yield return new("highest voltage", $"{sheet.HighestVolts} V DC");
        if (Wording.NoClassB(sheet) is { Length: > 0 } note)
        {
            yield return new("note", note);
        }

        yield return new("clear lapses", $"after {sheet.RetestMinutes} min");
        yield return new("reading floor", $"{sheet.FloorVolts} V");
        yield return new("stays live", sheet.StaysLive);
        if (sheet.Moving is { } moving)
        {
            yield return new("moving", moving);
        }
    }

    private static IEnumerable<SheetRow> Place(Sheet sheet, TestPlace place) =>
    [
        new(place.Id.Value, $"{place.Name}: covers {Names(sheet, place.Circuits)}"),
        new("", $"at most {place.LimitDc} V DC, {place.LimitAc} V AC; claimed within {Duration(place.WindowSeconds)} of proving the tester"),
        .. place.Pairs.Select(pair => new SheetRow("", $"- {pair.Name}, {pair.Kind.ToString().ToUpperInvariant()}")),
    ];

    private static SheetRow Disturbed(Sheet sheet, DisturbanceRule rule)
    {
        var points = rule.Points.IsDefaultOrEmpty ? "every point feeding them" : string.Join(", ", rule.Points);
        return new(rule.What.ToString().ToLowerInvariant(), $"voids {Names(sheet, rule.Circuits)}; open again: {points}");
    }

    private static SheetChapter Way(Sheet sheet, string title, ImmutableArray<Step> steps) => new(
        title,
        [.. steps.Select((step, index) => new SheetRow(
            $"{index + 1,2}. {step.Kind.ToString().ToLowerInvariant(),-5}",
            step.Say + WaitOf(sheet, step) + (step.Exposes ? " [exposes live parts]" : "")))]);

    private static string WaitOf(Sheet sheet, Step step) =>
        sheet.Waits.FirstOrDefault(one => one.Id == step.Wait) is { } known ? $" ({Duration(known.Seconds)})" : "";

    private static string Names(Sheet sheet, ImmutableArray<CircuitId> circuits) =>
        circuits.IsDefaultOrEmpty ? "everything" : string.Join(", ", sheet.Circuits.Where(one => circuits.Contains(one.Id)).Select(one => one.Name));

    private static string Duration(int seconds) =>
        seconds % 60 == 0 ? $"{seconds / 60} min" : seconds < 60 ? $"{seconds} s" : $"{seconds / 60} min {seconds % 60} s";
}
