using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.TestKit;

namespace Companion.Domain.Tests.Securing;

public sealed class LockRegisterTests
{
    private static readonly PointId Plug = new("rearplug");

    // Everybody's own lock in group work (29 CFR 1910.147(f)(3), from memory); locks A, B, C on and A off leaves the point locked.
    [Fact]
    public void A_point_stays_locked_until_the_last_lock_is_off()
    {
        var bench = Working("12", "13");
        bench.Claim(Phrase.WorkDone);
        var off = new List<int>();
        while (bench.Job!.Question!.Need.Kind != NeedKind.ClosePoint)
        {
            off.Add(LockRegister.At(bench.Job, Plug).Count());
            bench.AnswerRightly();
        }

        Assert.Equal([3, 2, 1], off.Distinct().TakeWhile(count => count > 0));
        Assert.Empty(LockRegister.At(bench.Job, Plug));
    }

    [Fact]
    public void Who_joins_fits_a_lock_of_their_own_on_every_point_before_it_is_clear_to_work_again()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Claim(Phrase.PersonJoins, "12");
        Assert.Null(bench.Job!.Clearance);
        Assert.NotEmpty(bench.Job.Proofs);
        var refused = Assert.IsType<Refused>(bench.Say(Phrase.ClearToWork));
        Assert.Contains("not clear to work", refused.Reason, StringComparison.Ordinal);
        var lockable = bench.Job.Way!.Points.Count(point => point.Lockable);
        for (var fitted = 0; fitted < lockable; fitted++)
        {
            Assert.Equal(NeedKind.FitLock, bench.Job.Question!.Need.Kind);
            Assert.EndsWith(":12", bench.Job.Question.Need.Subject, StringComparison.Ordinal);
            bench.AnswerRightly();
            Assert.Equal("12", bench.LastOf<PointLocked>().Holder);
        }

        Assert.Equal(NeedKind.ClaimClear, bench.Job.Question!.Need.Kind);
    }

    // B removes C's lock: refused (29 CFR 1910.147(e)(3), from memory).
    [Fact]
    public void Nobody_takes_off_the_lock_of_another()
    {
        var bench = Working("12", "13");
        bench.Claim(Phrase.WorkDone);
        bench.Until(NeedKind.RemoveLock);
        var turn = LockRegister.Of(bench.Job!, bench.Job!.Question!.Need)!;
        var others = bench.Job.Locks.First(fitted => fitted.Holder != turn.Holder && fitted.Point == turn.Point);
        var refused = Assert.IsType<Refused>(bench.Say(Phrase.Removed, others.Number));
        Assert.Contains($"belongs to crew number {others.Holder}", refused.Reason, StringComparison.Ordinal);
        Assert.IsType<StepRefused>(refused.Events.Last(happened => happened is StepRefused));
        Assert.Contains(others, bench.Job.Locks);
    }

    [Fact]
    public void An_absent_persons_lock_comes_off_by_the_employers_procedure_with_who_answers_for_it()
    {
        var bench = Working("12");
        bench.Say(Phrase.PersonLeft, "12");
        Assert.Equal(NeedKind.RemoveLock, bench.Job!.Question!.Need.Kind);
        Assert.IsType<Refused>(bench.Say(Phrase.ByProcedure, "12"));
        Assert.IsType<Accepted>(bench.Claim(Phrase.ByProcedure, "77"));
        var unlocked = bench.LastOf<PointUnlocked>();
        Assert.Equal(("12", "77", true), (unlocked.Holder, unlocked.Remover, unlocked.Procedure));
        Assert.NotNull(bench.Job.Clearance);
        Assert.NotEmpty(bench.Job.Proofs);
    }

    [Fact]
    public void One_lock_has_one_place_and_one_holder()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Claim(Phrase.PersonJoins, "12");
        var taken = bench.Job!.Locks[0].Number;
        Assert.Contains("fitted elsewhere", Assert.IsType<Refused>(bench.Say(Phrase.Fitted, taken)).Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lock_stays_in_the_register_when_its_point_is_disturbed()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        var locks = bench.Job!.Locks;
        bench.Say(Phrase.PlugRefitted);
        Assert.False(bench.Job.Points.ContainsKey(Plug));
        Assert.Equal(locks, bench.Job.Locks);
        bench.Until(NeedKind.FitLock);
        var own = locks.First(fitted => fitted.Point.Value == "lowvolt");
        Assert.IsType<Accepted>(bench.Claim(Phrase.Fitted, own.Number));
    }

    private static JobBench Working(params string[] others)
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        foreach (var person in others)
        {
            bench.Claim(Phrase.PersonJoins, person);
            bench.Until(NeedKind.Working);
        }

        return bench;
    }
}
