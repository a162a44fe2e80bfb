using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>The order of an isolation (I6).</summary>
public sealed class OrderTests
{
    // EN 50110-1 6.2, as reported: disconnect, then secure, then verify. On a floating net discharge and check stand for earthing, computed.
    [Fact]
    public void Verifying_is_refused_while_a_lock_is_missing_although_every_wait_is_over()
    {
        var bench = new JobBench().Open().Until(NeedKind.FitLock, 3).Pass(601);
        Assert.All(bench.Job!.Waits.Values, wait => Assert.NotNull(wait.CompletedAt));

        Assert.IsType<Refused>(bench.Say(Phrase.Reading, "230")); // EN 50110-1 6.2, as reported
        Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead)); // the same
        Assert.Equal(NeedKind.FitLock, bench.Job.Question!.Need.Kind);

        Assert.IsType<Accepted>(bench.Claim(Phrase.Fitted, "9"));
        Assert.Equal(NeedKind.ProveTester, bench.Job.Question.Need.Kind); // the same
    }

    [Fact]
    public void A_job_prepares_isolates_locks_lets_stored_energy_go_and_verifies_in_this_order()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);

        Assert.True(Last<KitChecked>() < First<PointOpened>()); // 29 CFR 1910.147, published: prepare, shut down, isolate
        Assert.All(
            Of<PointLocked>().Select(locked => locked.Of.Point),
            point => Assert.True(First<PointOpened>(one => one.Point == point) < First<PointLocked>(one => one.Point == point))); // the same: lock and tag
        Assert.True(Last<PointLocked>() < First<TesterProved>()); // the same: verify comes last
        Assert.True(First<WaitCompleted>(wait => wait.Wait.Value == "frontwait") < First<TesterProved>()); // the same: stored energy before
        Assert.True(Last<WaitCompleted>() < Last<TesterProved>()); // the same
        Assert.True(Last<DeadProved>() < First<WorkCleared>()); // the same

        IEnumerable<(long Sequence, T Of)> Of<T>()
            where T : JobEvent => bench.Log.Where(recorded => recorded.Event is T).Select(recorded => (recorded.Sequence, (T)recorded.Event));

        long First<T>(Func<T, bool>? fits = null)
            where T : JobEvent => Of<T>().First(one => fits?.Invoke(one.Of) ?? true).Sequence;

        long Last<T>()
            where T : JobEvent => Of<T>().Last().Sequence;
    }
}
