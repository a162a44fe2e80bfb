using System.Collections.Immutable;
using System.Globalization;
using Companion.Review.Across;

namespace Companion.Pages.Across;

/// <summary>What the page over many jobs shows.</summary>
/// <param name="Filter">Which jobs.</param>
/// <param name="Words">What is searched for; empty when nothing is.</param>
/// <param name="View">What is read, and what is not: the figures are of what is read.</param>
/// <param name="Sheets">Every sheet that a job used.</param>
/// <param name="Jobs">The jobs that the filter admits.</param>
/// <param name="Figures">What they say together.</param>
/// <param name="Found">Where the words were heard or said.</param>
public sealed record AcrossModel(
    JobFilter Filter, string Words, LibraryView View, ImmutableArray<string> Sheets, ImmutableArray<JobFacts> Jobs, AcrossFigures Figures, ImmutableArray<Found> Found)
{
    /// <summary>The longest text that is searched for.</summary>
    public const int LongestWords = 100;

    /// <summary>The filter as a query, for the downloads.</summary>
    public string Query => string.Join('&', new[]
    {
        ("from", Day(Filter.From)), ("to", Day(Filter.To)), ("sheet", Filter.Sheet), ("technician", Filter.Technician), ("kind", Filter.Rehearsals ? "rehearsal" : "real"),
    }.Where(pair => pair.Item2.Length > 0).Select(pair => $"{pair.Item1}={Uri.EscapeDataString(pair.Item2)}"));

    /// <summary>The page's own address.</summary>
    public string Address => $"across?{Query}&words={Uri.EscapeDataString(Words)}";

    /// <summary>A day as a form has it; empty for none.</summary>
    public static string Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? string.Empty;
}
