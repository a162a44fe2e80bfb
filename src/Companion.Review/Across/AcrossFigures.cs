using System.Collections.Immutable;
using Companion.Review.Remarking;

namespace Companion.Review.Across;

/// <summary>What many jobs say together. Immutable.</summary>
/// <param name="Jobs">How many jobs were counted.</param>
/// <param name="Steps">Time by step in seconds, the longest median first.</param>
/// <param name="Voice">Where the voice failed most.</param>
/// <param name="Sheets">Refusals by sheet, the most in one job first.</param>
/// <param name="Remarks">In how many jobs a kind of remark was made.</param>
public sealed record AcrossFigures(
    int Jobs, ImmutableArray<StepFigure> Steps, ImmutableArray<VoiceCount> Voice, ImmutableArray<SheetFigure> Sheets, ImmutableArray<RemarkCount> Remarks)
{
    /// <summary>Most rows of a table: what is left out is in the download.</summary>
    public const int MostRows = 20;

    /// <summary>The figures of some jobs, all of them rehearsals or all real.</summary>
    public static AcrossFigures Of(IReadOnlyCollection<JobFacts> jobs) => new(
        jobs.Count,
        [.. jobs.SelectMany(job => job.Steps)
            .GroupBy(step => step.Step)
            .Select(step => new StepFigure(step.Key, Quartiles.Of(step.Select(time => time.Milliseconds / 1000m))))
            .OrderByDescending(step => step.Seconds.Median).ThenBy(step => step.Step, StringComparer.Ordinal)
            .Take(MostRows)],
        [.. jobs.SelectMany(job => job.Voice)
            .GroupBy(count => count.Step)
            .Select(step => new VoiceCount(step.Key, step.Sum(count => count.Unheard), step.Sum(count => count.Refused), step.Sum(count => count.Corrected)))
            .Where(step => step.All > 0)
            .OrderByDescending(step => step.All).ThenBy(step => step.Step, StringComparer.Ordinal)
            .Take(MostRows)],
        [.. jobs.Where(job => job.Sheet.Length > 0)
            .GroupBy(job => job.Sheet)
            .Select(sheet => new SheetFigure(sheet.Key, sheet.Count(), sheet.Sum(job => job.Refusals)))
            .OrderByDescending(sheet => (decimal)sheet.Refusals / sheet.Jobs).ThenBy(sheet => sheet.Sheet, StringComparer.Ordinal)
            .Take(MostRows)],
        [.. jobs.SelectMany(job => job.Remarks)
            .GroupBy(count => count.Kind)
            .Select(kind => new RemarkCount(kind.Key, kind.Count()))
            .OrderByDescending(kind => kind.Count).ThenBy(kind => kind.Kind)]);
}

/// <summary>Time of a step over many jobs.</summary>
/// <param name="Step">The question and the step.</param>
/// <param name="Seconds">Median and quartiles, in seconds.</param>
public sealed record StepFigure(string Step, Quartiles Seconds);

/// <summary>Refusals under one sheet.</summary>
/// <param name="Sheet">The sheet and its edition.</param>
/// <param name="Jobs">Jobs under it.</param>
/// <param name="Refusals">Refusals in all of them.</param>
public sealed record SheetFigure(string Sheet, int Jobs, int Refusals);
