using Companion.Review.Remarking;

namespace Companion.Pages.Remarks;

/// <summary>Kinds and weights of remarks in the words of the pages.</summary>
public static class RemarkWords
{
    /// <summary>A kind.</summary>
    public static string Of(RemarkKind kind) => kind switch
    {
        RemarkKind.WaitBarelyKept => "Wait barely kept",
        RemarkKind.EarlyClaim => "Claimed before the wait was over",
        RemarkKind.ManyRefusals => "Many refusals",
        RemarkKind.LongSilence => "Long silence",
        RemarkKind.KitNearDate => "Equipment near its date",
        RemarkKind.ReadingNearLimit => "Reading near its limit",
        RemarkKind.ReadingAboveLimit => "Reading above its limit",
        RemarkKind.UnheardAnswers => "Answers not accepted",
        RemarkKind.PromptsNotPlayed => "Prompts not played",
        RemarkKind.SheetPastReview => "Sheet past its review",
        RemarkKind.Corrections => "Corrections",
        RemarkKind.DeviceTrouble => "Device trouble",
        RemarkKind.AlarmAnsweredLate => "Warning answered late",
        RemarkKind.CheckInMissed => "Check-in missed",
        RemarkKind.Interruption => "Interruption",
        RemarkKind.RecordTrouble => "Trouble of the record",
        RemarkKind.CannotDo => "Could not be done",
        _ => "Stand-off",
    };

    /// <summary>A weight.</summary>
    public static string Of(RemarkWeight weight) => weight switch
    {
        RemarkWeight.First => "look at this first",
        RemarkWeight.Word => "worth a word",
        _ => "good to know",
    };
}
