using System.Collections.Immutable;

namespace Companion.Papers.Words;

/// <summary>What is wrong with the record that a paper was made from; it comes first.</summary>
internal static class TroubleSection
{
    /// <summary>Most troubles that are told one by one; whoever wants the rest reads the record.</summary>
    public const int MostTold = 12;

    public static IEnumerable<PaperSection> Of(RecordEnd end)
    {
        var rows = ImmutableArray.CreateBuilder<PaperRow>();
        rows.AddRange(end.Troubles.Take(MostTold).Select(trouble => PaperRow.Of(trouble.Words)));
        if (end.Troubles.Length > MostTold)
        {
            rows.Add(PaperRow.Of($"And {PaperText.Number(end.Troubles.Length - MostTold)} more like these, which are in the record."));
        }

        if (end.Job is { Sheet: null, StandOff: null })
        {
            rows.Add(PaperRow.Of("No shutdown sheet is in this record: no point, wait or test is known."));
        }

        if (end.Job is null || !end.Whole)
        {
            rows.Add(PaperRow.Of("What takes a proof away may be in what is missing. Nothing on this paper counts as proved."));
        }

        if (rows.Count > 0)
        {
            yield return new PaperSection("Trouble with this record", rows.ToImmutable(), PaperEmphasis.Warning);
        }
    }
}
