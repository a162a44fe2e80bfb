using Companion.Domain.Events;
using Companion.Papers.Words;
using Companion.Review;
using CsCheck;

namespace Companion.Papers.Tests.Words;

/// <summary>Papers of random jobs, whole and damaged.</summary>
public sealed class PaperProperties
{
    private static readonly Gen<(int Seed, int Chaos, int Kept)> Walks = Gen.Select(Gen.Int[0, 1_000_000], Gen.Int[0, 40], Gen.Int[0, 100]);

    [Fact]
    public void No_paper_of_any_job_calls_a_vehicle_harmless_or_tells_the_wording_of_a_check_in() => Walks.Sample(
        walk =>
        {
            var whole = DemoRecords.Walked(walk.Seed, walk.Chaos);
            var loss = new Random(walk.Seed);
            var damaged = RecordedJob.Of("job-1", whole.Entries.Where(_ => loss.Next(100) < walk.Kept).Select(entry => entry.Entry));
            return AllPapers.Of(whole).Concat(AllPapers.Of(damaged)).All(paper => IsModest(paper) && IsFull(paper));
        },
        iter: 60);

    [Fact]
    public void A_whole_record_proves_on_paper_what_its_last_entries_prove_and_a_damaged_one_nothing() => Walks.Sample(
        walk =>
        {
            var whole = DemoRecords.Walked(walk.Seed, 0, 200);
            var proved = whole.Entries.Count(entry => entry.Happened is DeadProved) > 0;
            var told = HandOverPaper.Of(whole, DemoRecords.SoonAfter(whole)).Sections.SelectMany(section => section.Rows).Any(IsClaim);
            var damaged = RecordedJob.Of("job-1", whole.Entries.RemoveAt(whole.Entries.Length / 2).Select(entry => entry.Entry));
            return (proved || !told) && !HandOverPaper.Of(damaged, DemoRecords.SoonAfter(damaged)).Sections.SelectMany(section => section.Rows).Any(IsClaim);
        },
        iter: 30);

    private static bool IsClaim(PaperRow row) => row.Text.StartsWith("Proved dead", StringComparison.Ordinal);

    private static bool IsModest(Paper paper)
    {
        var words = PaperPrint.Of(paper);
        return !words.Contains("safe", StringComparison.OrdinalIgnoreCase) && !words.Contains("quiet", StringComparison.OrdinalIgnoreCase)
            && !words.Contains("status all right", StringComparison.OrdinalIgnoreCase);
    }

    private static bool IsFull(Paper paper) => paper.Standing.Length > 0
        && paper.Sections.All(section => section.Heading.Length > 0 && section.Rows.All(row => row.Text.Length > 0))
        && paper.Sections.Any(section => section.Heading == "Stays live")
        && paper.Cautions.Any(caution => caution.Contains("a competent person", StringComparison.Ordinal));
}
