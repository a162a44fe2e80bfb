using Companion.Domain.Events;

namespace Companion.Review.Lines;

/// <summary>Where an entry belongs on the timeline, and what it means there.</summary>
internal static class EntryPlaces
{
    public static Lane LaneOf(JobEvent? happened) => happened switch
    {
        PointOpened or PointLocked or PointUnlocked or PointClosed or DisturbanceReported => Lane.Points,
        WaitStarted or WaitCompleted or WaitVoided => Lane.Waits,
        TesterProved or ReadingTaken or ContactConfirmed or DeadProved or DeadRefused or ProofVoided or TemperatureTaken => Lane.Readings,
        SpeechHeard or PromptSpoken or PromptFailed or AnswerEchoed or AnswerCorrected or CodeAsked or CodeAccepted or CodeFailed or QuestionAsked => Lane.Speech,
        CheckInAsked or CheckInMade or CheckInSooner or CheckInUnanswered or NoSignalArranged or CallTaken or AlertRaised or AlertTaken => Lane.CheckIns,
        null or DeviceLost or DeviceReturned or ViewLost or ClockAnchored or LinkHeard or SoundAnnounced or SoundRecorded => Lane.Devices,
        _ => Lane.Steps,
    };

    public static MarkKind KindOf(JobEvent? happened) => happened switch
    {
        AlertRaised or CheckInUnanswered or WorkStopped or StandOffBegun => MarkKind.Alert,
        WaitVoided or ProofVoided or WorkLapsed or DisturbanceReported => MarkKind.Void,
        null or DeviceLost or ViewLost or PromptFailed or StepUnable or SoundRecorded { Cut: true } or SoundRecorded { Missing: > 0 } => MarkKind.Trouble,
        ClockAnchored { Why: not AnchorReason.Tick } => MarkKind.Trouble,
        StepRefused or DeadRefused or CodeFailed or SpeechHeard { Accepted: false } or KitChecked { Ok: false } or TesterProved { Ok: false } => MarkKind.Refusal,
        AnswerCorrected => MarkKind.Correction,
        _ => MarkKind.Plain,
    };
}
