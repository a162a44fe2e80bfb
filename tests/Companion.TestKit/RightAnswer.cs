using System.Globalization;
using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.TestKit;

/// <summary>What a technician whose vehicle is dead and whose tester works would say first to the open question.</summary>
public static class RightAnswer
{
    /// <summary>The phrase and its number.</summary>
    public static (Phrase Phrase, string? Number) To(Job job, string sheetNumber = "7") => job.Question!.Need.Kind switch
    {
        NeedKind.SoundCheck => (Phrase.AffirmCode, job.Question.Code),
        NeedKind.AlarmHeard => (Phrase.Affirm, null),
        NeedKind.NothingTouched => (Phrase.NothingTouched, null),
        NeedKind.SceneAct or NeedKind.SceneRemedy => (Phrase.Done, null),
        NeedKind.SceneQuestion => (Phrase.No, null),
        NeedKind.SceneReadBack => (Phrase.Ready, null),
        NeedKind.ChooseSheet => (Phrase.Sheet, sheetNumber),
        NeedKind.CheckKit => (Phrase.Checked, null),
        NeedKind.Act => (Phrase.Done, null),
        NeedKind.OpenPoint => (Phrase.Opened, null),
        NeedKind.FitLock => (Phrase.Fitted, (job.Sequence % 10000).ToString(CultureInfo.InvariantCulture)),
        NeedKind.ProveTester => (Phrase.Reading, "230"),
        NeedKind.TakeReading => (Phrase.Reading, LowReading(TestItems.PairOf(job, job.Question.Need).Role)),
        NeedKind.ConfirmContact => (Phrase.BareMetal, null),
        NeedKind.ClaimDead => (Phrase.ProvedDead, null),
        NeedKind.CoverLiveSide => (Phrase.Covered, null),
        NeedKind.ClaimClear => (Phrase.ClearToWork, null),
        NeedKind.InabilityReason => (Phrase.CannotReach, null),
        NeedKind.TakeWay => (Phrase.OtherWay, null),
        NeedKind.GoOn => (Phrase.Ready, null),
        NeedKind.WaitOver => (Phrase.HowLong, null),
        NeedKind.CountTools => (Phrase.Tools, (job.ToolsOut ?? 9).ToString(CultureInfo.InvariantCulture)),
        NeedKind.EverybodyAway => (Phrase.Ready, null),
        NeedKind.Uncover => (Phrase.Uncovered, null),
        NeedKind.RemoveLock => (Phrase.Removed, LockRegister.Of(job, job.Question.Need)!.Number),
        NeedKind.ClosePoint => (Phrase.Closed, null),
        _ => (Phrase.HandOver, null),
    };

    /// <summary>Readings of a dead circuit that fit together: 3 V rail to rail, 1 V and 2 V to chassis.</summary>
    public static string LowReading(PairRole role) => role switch
    {
        PairRole.PositiveToChassis => "1",
        PairRole.NegativeToChassis => "2",
        _ => "3",
    };
}
