using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Companion.Domain;
using Companion.Domain.Sheets;

namespace Companion.Sheets;

/// <summary>Prints a sheet as plain text, for reading against the maker's document.</summary>
public static class SheetText
{
    /// <summary>The sheet, one thing a line, lines ended by a line feed.</summary>
    public static string Show(Sheet sheet)
    {
        var text = new StringBuilder();
        Head(text, sheet);
        Energy(text, sheet);
        Tests(text, sheet);
        Disturbances(text, sheet);
        Way(text, sheet, "Steps", sheet.Steps);
        foreach (var way in sheet.Alternatives)
        {
            Way(text, sheet, $"Way {way.Name}, when {string.Join(" or ", way.For)} cannot be done", way.Steps);
        }

        return text.ToString();
    }

    private static void Head(StringBuilder text, Sheet sheet)
    {
        Line(text, $"Sheet {sheet.Number}: {sheet.Vehicle}");
        if (sheet.RehearsalOnly)
        {
            Line(text, "FOR REHEARSALS ONLY");
        }

        Line(text, $"  id               {sheet.Id}, edition {sheet.Edition}, approved by {sheet.Approver}");
        Line(text, $"  marking          {sheet.Marking}");
        Line(text, $"  source           {sheet.Source.Document}, edition {sheet.Source.Edition}");
        Line(text, $"  review by        {sheet.Source.ReviewBy.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}");
        Line(text, $"  highest voltage  {sheet.HighestVolts} V DC");
        Line(text, $"  clear lapses     after {sheet.RetestMinutes} min");
        Line(text, $"  reading floor    {sheet.FloorVolts} V");
        Line(text, $"  stays live       {sheet.StaysLive}");
    }

    private static void Energy(StringBuilder text, Sheet sheet)
    {
        Line(text, "");
        Line(text, "Isolation points");
        foreach (var point in sheet.Points)
        {
            var lockText = point.Lockable ? "lock and tag" : "no lock";
            Line(text, $"  {point.Id,-16} {point.Name}: feeds {Names(sheet, point.Circuits)}; {lockText}");
        }

        Line(text, "");
        Line(text, "Waits");
        foreach (var wait in sheet.Waits)
        {
            Line(text, $"  {wait.Id,-16} {wait.Name}: {Duration(wait.Seconds)} after the last point feeding "
                + $"{Names(sheet, [wait.Circuit])} is open");
        }
    }

    private static void Tests(StringBuilder text, Sheet sheet)
    {
        Line(text, "");
        Line(text, "Test places");
        foreach (var place in sheet.TestPlaces)
        {
            Line(text, $"  {place.Id,-16} {place.Name}: covers {Names(sheet, place.Circuits)}");
            Line(text, $"  {"",-16} at most {place.LimitDc} V DC, {place.LimitAc} V AC; "
                + $"claimed within {Duration(place.WindowSeconds)} of proving the tester");
            foreach (var pair in place.Pairs)
            {
                Line(text, $"  {"",-16} - {pair.Name}, {pair.Kind.ToString().ToUpperInvariant()}");
            }
        }
    }

    private static void Disturbances(StringBuilder text, Sheet sheet)
    {
        Line(text, "");
        Line(text, "Disturbances (any not listed voids everything)");
        foreach (var rule in sheet.Disturbances)
        {
            var points = rule.Points.IsDefaultOrEmpty ? "every point feeding them" : string.Join(", ", rule.Points);
            Line(text, $"  {rule.What.ToString().ToLowerInvariant(),-16} voids {Names(sheet, rule.Circuits)}; open again: {points}");
        }
    }

    private static void Way(StringBuilder text, Sheet sheet, string title, ImmutableArray<Step> steps)
    {
        Line(text, "");
        Line(text, title);
        foreach (var (index, step) in steps.Index())
        {
            var live = step.Exposes ? " [exposes live parts]" : "";
            var wait = sheet.Waits.FirstOrDefault(one => one.Id == step.Wait) is { } known ? $" ({Duration(known.Seconds)})" : "";
            Line(text, $"  {index + 1,2}. {step.Kind.ToString().ToLowerInvariant(),-5} {step.Say}{wait}{live}");
        }
    }

    private static string Names(Sheet sheet, ImmutableArray<CircuitId> circuits) =>
        circuits.IsDefaultOrEmpty ? "everything" : string.Join(", ", sheet.Circuits.Where(one => circuits.Contains(one.Id)).Select(one => one.Name));

    private static string Duration(int seconds) =>
        seconds % 60 == 0 ? $"{seconds / 60} min" : seconds < 60 ? $"{seconds} s" : $"{seconds / 60} min {seconds % 60} s";

    private static void Line(StringBuilder text, string line) => text.Append(line).Append('\n');
}
