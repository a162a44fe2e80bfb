using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Domain.Deciding;

/// <summary>Whether a confirmed answer may take effect, and the effect.</summary>
internal static class EffectRules
{
    /// <summary>Why the answer cannot be accepted; null when it can. Asked when it is claimed and again when it is confirmed.</summary>
    public static Refusal? Check(Turn turn, Need need, Echo? echo, Answer answer)
    {
        if (PeopleRules.ChangeOf(echo?.Phrase) is { } change)
        {
            return PeopleRules.Check(turn.Job, need, change, echo!.Number);
        }

        if (HandOverRules.Is(echo?.Phrase))
        {
            return HandOverRules.Check(turn.Job, echo!.Phrase);
        }

        return Alone(turn.Job, need) ?? LinkRules.Missing(turn, StepBehind(turn.Job, need)) ?? need.Kind switch
        {
            NeedKind.ChooseSheet => CheckSheet(turn.Job, echo, answer),
            NeedKind.FitLock => LockRules.CheckFitting(turn.Job, need, echo),
            NeedKind.RemoveLock => LockRules.CheckRemoval(turn.Job, need, echo!),
            NeedKind.CountTools => PuttingBackRules.CheckTools(turn.Job, echo),
            NeedKind.ProveTester => CheckProving(turn, need, echo!, answer),
            NeedKind.TakeReading => CheckReading(turn.Job, need, echo!, answer),
            NeedKind.ClaimDead => DeadGuard.Missing(turn.Job, TestItems.PlaceOf(turn.Job, need), turn.Counted),
            NeedKind.ClaimClear => CheckClear(turn),
            NeedKind.TakeWay when need.Subject.Length == 0 => new Refusal("There is no other way. Say cannot do."),
            _ => null,
        };
    }

    /// <summary>Lets the answer take effect.</summary>
    public static Refusal? Apply(Turn turn, Need need, Echo? echo, Answer answer)
    {
        if (PeopleRules.ChangeOf(echo?.Phrase) is { } change)
        {
            PeopleRules.Change(turn, change, echo!.Number!);
            return null;
        }

        if (HandOverRules.Is(echo?.Phrase))
        {
            HandOverRules.HandOver(turn, echo!.Phrase);
            return null;
        }

        switch (need.Kind)
        {
            case NeedKind.AlarmHeard:
                turn.Add(new AlertTaken(turn.Job.Alarm!.At, answer.By));
                return null;
            case NeedKind.SceneAct or NeedKind.SceneQuestion or NeedKind.SceneRemedy:
                return SceneRules.Settle(turn, need, answer);
            case NeedKind.ChooseSheet:
                turn.Add(new SheetPinned(answer.Sheet!.Sheet, answer.Sheet.Digest, answer.Sheet.Sheet.Approver));
                return null;
            case NeedKind.CheckKit:
                return CheckKit(turn, need);
            case NeedKind.OpenPoint:
                turn.Add(new PointOpened(StepOf(turn.Job, need).Point!.Value));
                return null;
            case NeedKind.FitLock:
                LockRules.Fit(turn, need, echo!);
                return null;
            case NeedKind.ProveTester:
                return TestRules.Prove(turn, need, echo!, answer);
            case NeedKind.TakeReading:
                return TestRules.Read(turn, need, echo!, answer);
            default:
                return Undo(turn, need, echo) ? null : Conclude(turn, need, answer);
        }
    }

    /// <summary>Something was touched, or nobody can say that nothing was: every wait and proof is void.</summary>
    public static Refusal? SomethingTouched(Turn turn)
    {
        VoidRules.Disturb(turn, Disturbance.Unwatched);
        turn.Add(new AlertRaised(AlarmKind.Void, turn.Job.PuttingBack
            ? "Not watched. Treat as live. Go through every point again."
            : "Not watched. Waits and proofs are void. Treat as live. Open every point again."));
        return null;
    }

    /// <summary>"Cannot do": the reason is asked for, or the job ends as live (I22).</summary>
    public static Refusal? CannotDo(Turn turn, Question question, Answer answer)
    {
        switch (question.Need.Kind)
        {
            case NeedKind.NothingTouched:
                return SomethingTouched(turn);
            case NeedKind.SceneAct or NeedKind.SceneQuestion or NeedKind.SceneRemedy:
                return SceneRules.CannotDo(turn, question.Need, answer);
            case NeedKind.ChooseSheet:
                return InabilityRules.Stop(turn, "There is no sheet for this vehicle.");
            case NeedKind.CheckKit:
                return InabilityRules.Stop(turn, "The equipment cannot be used.");
            case NeedKind.InabilityReason or NeedKind.TakeWay:
                return InabilityRules.Stop(turn, "A step of the method cannot be done.");
            case NeedKind.SceneReadBack:
                return InabilityRules.Stop(turn, "The arrival cannot be confirmed.");
            case NeedKind.RemoveLock:
                return InabilityRules.Stop(turn, "A lock cannot be removed by the person who fitted it.");
            case NeedKind.CountTools when turn.Job.PuttingBack:
                return InabilityRules.Stop(turn, "Tools are missing.");
            case NeedKind.EverybodyAway or NeedKind.Uncover or NeedKind.ClosePoint:
                return InabilityRules.Stop(turn, "The vehicle cannot be put back.");
            case NeedKind.SoundCheck:
                return new Refusal("Without voice, hold the button to go on by touch.");
            case NeedKind.AlarmHeard or NeedKind.GoOn or NeedKind.HandOver or NeedKind.StandOff or NeedKind.Working
                or NeedKind.CountTools or NeedKind.PutBack:
                return new Refusal($"There is no step to leave out here. {Speaking.Wording.Missing(turn.Job, question.Need)}");
            default:
                turn.Add(new StepUnable(turn.Job.CurrentStep!.Id, null));
                return null;
        }
    }

    /// <summary>What belongs to the way back; true when it was that.</summary>
    private static bool Undo(Turn turn, Need need, Echo? echo)
    {
        switch (need.Kind)
        {
            case NeedKind.CountTools:
                PuttingBackRules.Tools(turn, echo!);
                return true;
            case NeedKind.RemoveLock:
                LockRules.Remove(turn, need, echo!);
                return true;
            case NeedKind.ClosePoint:
                turn.Add(new PointClosed(new PointId(need.Subject)));
                return true;
            case NeedKind.Working:
                PuttingBackRules.Begin(turn);
                return true;
            default:
                return false;
        }
    }

    private static Refusal? Conclude(Turn turn, Need need, Answer answer)
    {
        switch (need.Kind)
        {
            case NeedKind.ConfirmContact:
                turn.Add(new ContactConfirmed(TestItems.PlaceOf(turn.Job, need).Id));
                return null;
            case NeedKind.ClaimDead:
                turn.Add(Proved(turn.Job, TestItems.PlaceOf(turn.Job, need)));
                return null;
            case NeedKind.ClaimClear:
                turn.Add(new WorkCleared(ClearGuard.RetestDue(turn.Job, turn.Moment)));
                return null;
            case NeedKind.InabilityReason:
                return InabilityRules.Reason(turn, answer.Phrase);
            case NeedKind.TakeWay:
                return InabilityRules.Take(turn);
            default:
                turn.Add(new StepConfirmed(need.Kind, need.Subject, answer.By, answer.Confidence));
                return null;
        }
    }

    private static DeadProved Proved(Job job, TestPlace place) => new(
        place.Id,
        [.. job.Way!.WaitsOf(place).Select(wait => wait.Id)],
        [.. place.Pairs.Select(pair => job.Test!.Readings[pair.Id].Sequence)]);

    private static Refusal? Alone(Job job, Need need)
    {
        return StepBehind(job, need) is { Exposes: true } && !job.HasSecondPerson && job.Policy == ExposurePolicy.SecondPerson
            ? new Refusal("This step exposes live parts and is not done alone. When somebody is there, say other, their crew number, ready. Or say cannot do.")
            : null;
    }

    /// <summary>The sheet's step that a question does, or undoes.</summary>
    private static Step? StepBehind(Job job, Need need) => need.Kind switch
    {
        NeedKind.Uncover => StepOf(job, need),
        NeedKind.ClosePoint => OpeningOf(job.Sheet!, need.Subject),
        _ => IsStep(need.Kind) ? job.CurrentStep : null,
    };

    /// <summary>The step that opens a point, in whatever way: what another way had opened is closed too. The one that exposes, if any does.</summary>
    private static Step? OpeningOf(Sheet sheet, string point) => sheet.Steps.Concat(sheet.Alternatives.SelectMany(way => way.Steps))
        .Where(step => step.Kind == StepKind.Open && step.Point?.Value == point)
        .MaxBy(step => step.Exposes);

    private static bool IsStep(NeedKind kind) => kind is NeedKind.Act or NeedKind.OpenPoint or NeedKind.FitLock or NeedKind.ProveTester
        or NeedKind.TakeReading or NeedKind.ConfirmContact or NeedKind.ClaimDead or NeedKind.CoverLiveSide;

    private static Refusal? CheckSheet(Job job, Echo? echo, Answer answer)
    {
        if (answer.Sheet is not { } offered)
        {
            return new Refusal("No sheet has that number. Say a two-digit number of the list.");
        }

        if (echo?.Digest != offered.Digest)
        {
            return new Refusal("The sheet was changed meanwhile. Choose it again.");
        }

        if (offered.Sheet.RehearsalOnly && !job.Rehearsal)
        {
            return new Refusal("That sheet is for rehearsals only. Choose the sheet of this vehicle.");
        }

        return offered.Sheet.Source.IsOverdue(DateOnly.FromDateTime(job.Clock.LatestWall.Date))
            ? new Refusal("That sheet is past its review date. Get the maker's present method.")
            : null;
    }

    private static Refusal? CheckKit(Turn turn, Need need)
    {
        var item = turn.Job.Kit.First(candidate => candidate.Id.Value == need.Subject);
        var fault = KitRules.Fault(item, turn.Job.Sheet!, DateOnly.FromDateTime(turn.Job.Clock.LatestWall.Date), turn.Job.Rating);
        turn.Add(new KitChecked(item.Id, item.Kind, RatingOf(item, turn.Job.Rating), fault is null, fault));
        return fault is null ? null : new Refusal(fault);
    }

    private static string RatingOf(KitItem item, RatingPolicy policy) => item.MostAt(policy)?.ToString() ?? string.Empty;

    private static Refusal? CheckProving(Turn turn, Need need, Echo echo, Answer answer)
    {
        var place = TestItems.PlaceOf(turn.Job, need);
        if (TestRules.TesterOf(turn.Job, answer) is not { } tester)
        {
            return new Refusal("That tester has not been checked in this job.");
        }

        return DeadGuard.NotReady(turn.Job, place, turn.Counted)
            ?? TestRules.CheckNumber(tester, need, echo, TestRules.ProvingOf(need).Kind);
    }

    private static Refusal? CheckReading(Job job, Need need, Echo echo, Answer answer) =>
        TestRules.TesterOf(job, answer) is { } tester && tester.Id == job.Test?.Tester
            ? TestRules.CheckNumber(tester, need, echo, TestItems.PairOf(job, need).Kind)
            : new Refusal("Use the tester that was proved for this test.");

    private static Refusal? CheckClear(Turn turn)
    {
        var missing = ClearGuard.Missing(turn.Job, turn.Counted);
        return missing.Length == 0
            ? null
            : new Refusal($"Refused: not clear to work. {missing}", ClearGuard.RemainingSeconds(turn.Job, turn.Counted));
    }

    private static Step StepOf(Job job, Need need) => job.Way!.Steps.First(step => step.Id.Value == need.Subject);
}
