using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Time;

namespace Companion.TestKit.Judging;

/// <summary>What must hold for one command and what it brought, whatever went before.</summary>
public static class TurnChecks
{
    private static readonly HashSet<Type> OfTime =
    [
        typeof(ClockAnchored), typeof(WaitCompleted), typeof(DeadRefused), typeof(ProofVoided), typeof(WorkLapsed), typeof(QuestionAsked), typeof(CodeAsked),
    ];

    /// <summary>I8, I9, I16, I17 on one turn.</summary>
    public static void Hold(Turned turn, IReadOnlyList<Witnessed> log)
    {
        Refusals(turn);
        if (turn.Command is not Answer answer)
        {
            Silence(turn);
            return;
        }

        var admitted = Admits(answer, turn, log);
        var losing = LosingWords.IsLosing(answer.Phrase);
        if (!admitted && !losing)
        {
            var foreign = turn.Decision.Events.FirstOrDefault(happened => !OfTime.Contains(happened.GetType()) && happened is not (StepRefused or SpeechHeard)
                && !IsGoing(answer.Phrase, happened));
            Oracle.Claim(foreign is null, $"I17: an answer that was not admitted brought {foreign}");
        }

        foreach (var taken in turn.Decision.Events.OfType<AlertTaken>())
        {
            var raised = log.First(entry => entry.Sequence == taken.Alert);
            Oracle.Claim(raised.Event is AlertRaised && (answer.Began.BootId != raised.Moment.BootId || answer.Began.Boot >= raised.Moment.Boot), "I17: an alarm answered before it was raised");
        }

        if (answer.Phrase == Phrase.Watching)
        {
            var given = turn.Decision.Events.FirstOrDefault(happened => !OfTime.Contains(happened.GetType()) && !TakesAway(happened));
            Oracle.Claim(given is null, $"I3: a watching reading brought {given}");
        }

        Beyond(turn);
        Live(turn, log);
        Critical(answer, turn, log);
    }

    /// <summary>I21: a voltage that the vehicle cannot hold means that the sheet is the wrong one: the job stops for good.</summary>
    private static void Beyond(Turned turn)
    {
        if (turn.Before?.Sheet is { } sheet && turn.Decision.Events.OfType<ReadingTaken>().Any(taken =>
            Math.Abs((taken.Volts ?? taken.Below)!.Value.Millivolts) > sheet.HighestVolts * 1000L))
        {
            Oracle.Claim(turn.After!.Halt is { Final: true }, "I21: a voltage beyond the sheet's highest, and the job goes on");
        }
    }

    /// <summary>I3: a confirmed reading above the limit is live: the test ends, an alarm sounds, every wait of the place begins again.</summary>
    private static void Live(Turned turn, IReadOnlyList<Witnessed> log)
    {
        var at = turn.Decision.Events.FirstOrDefault(happened => happened is ReadingTaken { Purpose: ReadingPurpose.DeadTest }) as ReadingTaken;
        var place = at is null ? null : turn.Before?.Sheet?.TestPlaces.First(candidate => candidate.Id == at.TestPlace);
        var shown = at?.Volts ?? at?.Below;
        if (place is null || Math.Abs(shown!.Value.Millivolts) <= place.Limit(at!.Kind).Millivolts)
        {
            return;
        }

        var sequence = log[turn.LogBefore + turn.Decision.Events.IndexOf(at)].Sequence;
        Oracle.Claim(turn.Decision.Events.OfType<AlertRaised>().Any() && turn.After!.Test is null, $"I3: {shown} V was not taken as live");
        Oracle.Claim(!turn.After!.Proofs.ContainsKey(place.Id), "I3: a proof at a place that is live");
        Oracle.Claim(turn.After.Waits.Values.All(run => !place.Covers(run.Rule.Circuit) || run.StartedAt > sequence), "I3: a wait goes on after a live reading");
    }

    private static void Refusals(Turned turn)
    {
        if (turn.Decision is not Refused refused)
        {
            return;
        }

        Oracle.Claim(refused.Reason.Length > 0, "I9: a refusal without a reason");
        Oracle.Claim(refused.RemainingSeconds >= 0, "a refusal with seconds below nothing");
        if (turn.Before is { Ended: false })
        {
            Oracle.Claim(turn.Decision.Events.Any(happened => happened is StepRefused or DeadRefused), $"I9: {turn.Command.GetType().Name} was refused and nothing journalled");
        }
    }

    private static void Silence(Turned turn)
    {
        var foreign = turn.Decision.Events.FirstOrDefault(happened => !OfTime.Contains(happened.GetType())
            && happened is not (SpeechHeard { Accepted: false } or PromptSpoken or PromptFailed or DeviceLost or DeviceReturned or ViewLost or JobOpened or JobClosed or StepRefused));
        Oracle.Claim(foreign is null, $"I8: {turn.Command.GetType().Name} brought {foreign}");
        if (turn.Command is Restarted && turn.After is not null)
        {
            Oracle.Claim(turn.After.Proofs.IsEmpty && turn.After.Clearance is null, "I16: proofs survive a store in doubt");
        }
    }

    /// <summary>By the log: the question put last is the one that the answer names, and the answer began no earlier than what was put last.</summary>
    private static bool Admits(Answer answer, Turned turn, IReadOnlyList<Witnessed> log)
    {
        var put = -1;
        for (var index = 0; index < turn.LogBefore; index++)
        {
            put = log[index].Event is QuestionAsked or AnswerEchoed or CodeAsked or AnswerCorrected ? index : put;
        }

        var asked = log.Take(turn.LogBefore).LastOrDefault(entry => entry.Event is QuestionAsked);
        return asked is not null
            && answer.Question == asked.Sequence
            && answer.Began.BootId == log[put].Moment.BootId
            && answer.Began.Boot >= log[put].Moment.Boot
            && !turn.Decision.Events.Any(happened => happened is ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume });
    }

    /// <summary>I8: before each critical entry the code came back, the button was held, or the reading was said again the same.</summary>
    private static void Critical(Answer answer, Turned turn, IReadOnlyList<Witnessed> log)
    {
        var critical = turn.Decision.Events.FirstOrDefault(IsCritical);
        if (critical is null)
        {
            return;
        }

        Oracle.Claim(turn.Decision.Events.Any(happened => happened is CodeAccepted), $"I8: {critical} without its confirmation in the log");
        if (answer.By != By.Voice && answer.Held >= Ticks.OfMilliseconds(1200))
        {
            return;
        }

        var before = log.Take(turn.LogBefore).ToList();
        var code = before.LastOrDefault(entry => entry.Event is CodeAsked)?.Event as CodeAsked;
        var echo = before.LastOrDefault(entry => entry.Event is AnswerEchoed or AnswerCorrected or QuestionAsked)?.Event as AnswerEchoed;
        var byCode = answer.Phrase == Phrase.AffirmCode && code is not null && code.Question == answer.Question && code.Code == answer.Number;
        var saidAgain = echo is not null && echo.Question == answer.Question && echo.Phrase == answer.Phrase && echo.Below == answer.Below
            && Domain.Electrical.Volts.TryParse(echo.Number) == Domain.Electrical.Volts.TryParse(answer.Number)
            && (echo.Kind is null || answer.Kind is null || echo.Kind == answer.Kind);
        Oracle.Claim(byCode || (critical is ReadingTaken or TesterProved && saidAgain), $"I8: {critical} by {answer.Phrase} {answer.Number}");
    }

    /// <summary>Going away, for a while or for good, takes effect at once (I16).</summary>
    private static bool IsGoing(Phrase said, JobEvent happened) => (said, happened) is
        (Phrase.TakingBreak, PhaseEntered { Which: JobPhase.Break }) or (Phrase.PersonLeft, PersonChanged { Change: PersonChange.Left });

    /// <summary>What a watching reading may bring: it is recorded, and what it takes away begins again.</summary>
    private static bool TakesAway(JobEvent happened) => happened is ReadingTaken { Purpose: ReadingPurpose.Watching } or WaitVoided or WaitStarted or AlertRaised
        or WorkStopped or StepRefused;

    private static bool IsCritical(JobEvent happened) => happened switch
    {
        SheetPinned or PointOpened or PointLocked or TesterProved or ContactConfirmed or DeadProved or WorkCleared or WayTaken or JobHandedOver => true,
        PointUnlocked or PointClosed or ToolsCounted => true,
        PhaseEntered { Which: JobPhase.PuttingBack } or PersonChanged { Change: not PersonChange.Left } => true,
        ReadingTaken { Purpose: ReadingPurpose.DeadTest } => true,
        StepConfirmed confirmed => confirmed.Question is not NeedKind.Act,
        _ => false,
    };
}
