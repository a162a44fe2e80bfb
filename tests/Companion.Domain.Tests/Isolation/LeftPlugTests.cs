using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Tests.Sheets;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>Another way, taken when a plug had been pulled before (I15, I22).</summary>
public sealed class LeftPlugTests
{
    // Went wrong: pulled, undone by a disturbance before it was covered, then stuck: the way by the loop covers nothing, and ended clear to work.
    [Fact]
    public void A_way_that_would_leave_a_pulled_plug_bare_is_not_taken()
    {
        var bench = new JobBench { Sheet = SampleSheet.Of() }.Open().Until(NeedKind.CoverLiveSide);
        bench.Say(Phrase.KeyOn);
        bench.Until(NeedKind.OpenPoint, 2);
        bench.Say(Phrase.CannotDo);
        bench.Say(Phrase.Stuck);
        Assert.True(bench.Job!.Halt?.Final);
    }

    [Fact]
    public void A_plug_that_was_never_pulled_leaves_the_way_free()
    {
        var bench = new JobBench { Sheet = SampleSheet.Of() }.Open().Until(NeedKind.OpenPoint, 2);
        bench.Say(Phrase.CannotDo);
        Assert.IsType<Accepted>(bench.Say(Phrase.Stuck));
        Assert.Equal(NeedKind.TakeWay, bench.Job!.Question!.Need.Kind);
    }
}
