using System.Collections.Immutable;

namespace Companion.Domain.Asking;

/// <summary>How an answer is confirmed.</summary>
public enum Confirmation
{
    /// <summary>In a word; nothing permissive hangs on it.</summary>
    None,

    /// <summary>By repeating a fresh code, or by a deliberate hold.</summary>
    Code,

    /// <summary>By saying the reading again the same, or by a deliberate hold.</summary>
    SayAgain,
}

/// <summary>What answers a question, and how they are confirmed.</summary>
/// <param name="Phrases">The phrases that fit, the usual one first.</param>
/// <param name="Confirmation">The confirmation.</param>
public sealed record Expectation(ImmutableArray<Phrase> Phrases, Confirmation Confirmation);

/// <summary>The table of questions and answers (I8).</summary>
public static class Expectations
{
    /// <summary>What answers this kind of question.</summary>
    public static Expectation Of(NeedKind need) => need switch
    {
        NeedKind.SoundCheck => new([Phrase.AffirmCode], Confirmation.Code),
        NeedKind.AlarmHeard => new([Phrase.Affirm], Confirmation.None),
        NeedKind.NothingTouched => new([Phrase.NothingTouched], Confirmation.Code),
        NeedKind.SceneAct or NeedKind.SceneRemedy => new([Phrase.Done], Confirmation.None),
        NeedKind.SceneQuestion => new([Phrase.No, Phrase.Yes], Confirmation.None),
        NeedKind.SceneReadBack => new([Phrase.Ready], Confirmation.Code),
        NeedKind.ChooseSheet => new([Phrase.Sheet], Confirmation.Code),
        NeedKind.CheckKit => new([Phrase.Checked], Confirmation.None),
        NeedKind.Act => new([Phrase.Done], Confirmation.None),
        NeedKind.OpenPoint => new([Phrase.Opened], Confirmation.Code),
        NeedKind.FitLock => new([Phrase.Fitted], Confirmation.Code),
        NeedKind.ProveTester => new([Phrase.Reading, Phrase.OtherUnit, Phrase.NothingShown], Confirmation.SayAgain),
        NeedKind.TakeReading => new([Phrase.Reading, Phrase.OtherUnit], Confirmation.SayAgain),
        NeedKind.ConfirmContact => new([Phrase.BareMetal], Confirmation.Code),
        NeedKind.ClaimDead => new([Phrase.ProvedDead], Confirmation.Code),
        NeedKind.CoverLiveSide => new([Phrase.Covered], Confirmation.Code),
        NeedKind.ClaimClear => new([Phrase.ClearToWork], Confirmation.Code),
        NeedKind.InabilityReason => new(
            [Phrase.CannotReach, Phrase.Damaged, Phrase.Stuck, Phrase.NoTool, Phrase.NotThere], Confirmation.None),
        NeedKind.TakeWay => new([Phrase.OtherWay], Confirmation.Code),
        NeedKind.GoOn => new([Phrase.Ready], Confirmation.Code),
        NeedKind.CountTools => new([Phrase.Tools], Confirmation.Code),
        NeedKind.Working => new([Phrase.HandOver, Phrase.WorkDone], Confirmation.Code),
        NeedKind.EverybodyAway => new([Phrase.Ready], Confirmation.Code),
        NeedKind.Uncover => new([Phrase.Uncovered], Confirmation.Code),
        NeedKind.RemoveLock => new([Phrase.Removed, Phrase.ByProcedure], Confirmation.Code),
        NeedKind.ClosePoint => new([Phrase.Closed], Confirmation.Code),
        NeedKind.HandOver or NeedKind.StandOff or NeedKind.PutBack => new([Phrase.HandOver], Confirmation.Code),
        _ => new([], Confirmation.None),
    };
}
