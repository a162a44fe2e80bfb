using Companion.Review.Remarking;
using Companion.TestKit;
using Companion.TestKit.Walking;
using CsCheck;

namespace Companion.Review.Tests.Remarking;

/// <summary>Remarks over random jobs, whole and damaged.</summary>
public sealed class RemarkProperties
{
    [Fact]
    public void Remarks_never_fail_point_at_entries_that_are_there_and_are_the_same_again() => Gen.Select(Gen.Int[0, 1_000_000], Gen.Int[0, 40], Gen.Int[0, 100]).Sample(
        (seed, chaos, kept) =>
        {
            var world = new BenchWorld();
            world.Open();
            new Walker(world, chaos, new Random(seed)).Walk(120);
            var whole = RecordedJobs.Of(world.Bench);
            var loss = new Random(seed);
            var damaged = RecordedJob.Of("j", whole.Entries.Where(_ => loss.Next(100) < kept).Select(entry => entry.Entry));
            return Holds(whole) && Holds(damaged);
        },
        iter: 40);

    private static bool Holds(RecordedJob job)
    {
        var there = job.Entries.Select(entry => entry.Sequence).ToHashSet();
        var remarks = Remarks.Of(job);
        return remarks.All(remark => remark.Sequences.Length is > 0 and <= RemarkLimits.MostPointedTo && remark.Sequences.All(there.Contains) && remark.Words.Length > 0)
            && remarks.Select(remark => remark.Words).SequenceEqual(Remarks.Of(job).Select(remark => remark.Words));
    }
}
