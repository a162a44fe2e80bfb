using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.TestKit;

namespace Companion.Domain.Tests.Securing;

public sealed class PeopleTests
{
    // I23
    [Fact]
    public void An_exposing_step_is_refused_alone_and_accepted_once_a_second_person_arrived()
    {
        var bench = new JobBench().Open(secondPerson: null).Until(NeedKind.ProveTester);
        Assert.Contains("not done alone", Assert.IsType<Refused>(bench.Say(Phrase.Reading, "230")).Reason, StringComparison.Ordinal);
        bench.Say(Phrase.PersonArrived, "31");
        Assert.False(bench.Job!.HasSecondPerson);
        bench.Say(Phrase.AffirmCode, bench.Job.Question!.Code);
        Assert.True(bench.Job.HasSecondPerson);
        Assert.IsType<Accepted>(bench.Say(Phrase.Reading, "230"));
    }

    // I16: losing is quick.
    [Fact]
    public void Who_leaves_is_gone_at_once_and_the_exposing_step_is_refused_again()
    {
        var bench = new JobBench().Open(secondPerson: null);
        bench.Until(NeedKind.OpenPoint);
        bench.Claim(Phrase.PersonArrived, "31");
        bench.Say(Phrase.PersonLeft, "31");
        Assert.False(bench.Job!.HasSecondPerson);
    }

    // I23: one five, heard as five zero, stayed behind as present, and live parts were exposed alone.
    [Fact]
    public void A_misheard_number_of_who_leaves_left_the_technician_accompanied_by_nobody()
    {
        var bench = new JobBench().Open(secondPerson: null).Until(NeedKind.OpenPoint);
        bench.Claim(Phrase.PersonArrived, "15");
        var refused = Assert.IsType<Refused>(bench.Say(Phrase.PersonLeft, "50"));
        Assert.Contains("Crew number five zero is not here. Here: one five.", refused.Reason, StringComparison.Ordinal);
        Assert.IsType<Accepted>(bench.Say(Phrase.PersonLeft, "15"));
        Assert.False(bench.Job!.HasSecondPerson);
    }

    [Fact]
    public void One_who_was_named_at_the_start_leaves_under_any_number()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint);
        bench.Say(Phrase.PersonLeft, "31");
        Assert.False(bench.Job!.HasSecondPerson);
    }

    // I23. Went wrong: the person named at the start stayed behind as present when the same person was counted by number.
    [Theory]
    [InlineData(Phrase.PersonTakesOver, false)]
    [InlineData(Phrase.PersonJoins, true)]
    [InlineData(Phrase.PersonArrived, true)]
    public void Nobody_is_counted_twice(Phrase phrase, bool accompanied)
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint);
        bench.Claim(phrase, "31");
        Assert.Equal(accompanied, bench.Job!.HasSecondPerson);
        bench.Say(Phrase.PersonLeft, "31");
        Assert.False(bench.Job.HasSecondPerson);
    }

    [Fact]
    public void The_technician_hands_over_or_is_replaced_but_does_not_leave()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Claim(Phrase.PersonTakesOver, "12");
        Assert.Contains("take over", Assert.IsType<Refused>(bench.Say(Phrase.PersonLeft, "12")).Reason, StringComparison.Ordinal);
    }

    // I15; shift change in an orderly transfer (29 CFR 1910.147(f)(4), from memory): the new locks first, then the old ones off.
    [Fact]
    public void Who_takes_over_looks_the_kit_over_locks_tests_anew_and_then_the_old_locks_come_off()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        var old = bench.Job!.Locks;
        bench.Claim(Phrase.PersonTakesOver, "12");
        Assert.Equal("12", bench.Job.Technician);
        Assert.Empty(bench.Job.Proofs);
        Assert.Null(bench.Job.Clearance);
        Assert.Equal(NeedKind.CheckKit, bench.Job.Question!.Need.Kind);
        bench.Claim(Phrase.PersonArrived, "31");

        bench.Until(NeedKind.RemoveLock);
        Assert.All(old, fitted => Assert.Null(LockRegister.Lacking(bench.Job, fitted.Point)));
        bench.Until(NeedKind.Working);
        Assert.All(bench.Job.Locks, fitted => Assert.Equal("12", fitted.Holder));
        Assert.Equal(old.Length, bench.Count<PointUnlocked>());
        var order = bench.Log.Where(entry => entry.Event is PointUnlocked or DeadProved).Select(entry => entry.Event).ToList();
        Assert.IsType<DeadProved>(order[^1]);
    }

    [Theory]
    [InlineData(Phrase.PersonArrived, "")]
    [InlineData(Phrase.PersonJoins, "12345")]
    [InlineData(Phrase.PersonTakesOver, "-1")]
    [InlineData(Phrase.PersonLeft, null)]
    public void A_person_without_a_crew_number_is_refused(Phrase phrase, string? number)
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint);
        var people = (bench.Job!.Technician, bench.Job.Workers.Length, bench.Job.Present.Count);
        Assert.Contains("crew number", Assert.IsType<Refused>(bench.Say(phrase, number)).Reason, StringComparison.Ordinal);
        Assert.Equal(people, (bench.Job.Technician, bench.Job.Workers.Length, bench.Job.Present.Count));
    }

    [Fact]
    public void A_warning_is_answered_before_anybody_is_recorded_as_there()
    {
        var bench = new JobBench().Open(secondPerson: null).Until(NeedKind.OpenPoint);
        bench.Say(Phrase.Stop);
        Assert.Contains("warning", Assert.IsType<Refused>(bench.Say(Phrase.PersonArrived, "31")).Reason, StringComparison.Ordinal);
    }
}
