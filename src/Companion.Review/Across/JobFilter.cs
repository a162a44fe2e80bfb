using System.Collections.Immutable;

namespace Companion.Review.Across;

/// <summary>Which jobs are looked at together. Rehearsals and real jobs are never counted in one figure.</summary>
/// <param name="From">The first day; null for all.</param>
/// <param name="To">The last day; null for all.</param>
/// <param name="Sheet">The sheet with its edition; empty for all.</param>
/// <param name="Technician">The crew number; empty for all.</param>
/// <param name="Rehearsals">True for rehearsals, false for real jobs.</param>
public sealed record JobFilter(DateOnly? From = null, DateOnly? To = null, string Sheet = "", string Technician = "", bool Rehearsals = false)
{
    /// <summary>The jobs that are meant, the newest first.</summary>
    public ImmutableArray<JobFacts> Of(IEnumerable<JobFacts> jobs) => [.. jobs.Where(Admits).OrderByDescending(job => job.Opened).ThenBy(job => job.Name.Chain, StringComparer.Ordinal)];

    private bool Admits(JobFacts job)
    {
        var day = DateOnly.FromDateTime(job.Opened.DateTime);
        return job.Rehearsal == Rehearsals
            && !(day < From)
            && !(day > To)
            && (Sheet.Length == 0 || job.Sheet == Sheet)
            && (Technician.Length == 0 || job.Technician == Technician);
    }
}
