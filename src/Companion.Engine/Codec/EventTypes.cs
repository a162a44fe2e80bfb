using System.Collections.Frozen;
using Companion.Domain.Events;

namespace Companion.Engine.Codec;

/// <summary>The event types of the journal's format and the records that carry their data.</summary>
public static class EventTypes
{
    private static readonly FrozenDictionary<string, Type> ByName = new Dictionary<string, Type>
    {
        ["job.opened"] = typeof(JobOpened),
        ["job.closed"] = typeof(JobClosed),
        ["job.handedover"] = typeof(JobHandedOver),
        ["sheet.pinned"] = typeof(SheetPinned),
        ["way.taken"] = typeof(WayTaken),
        ["step.unable"] = typeof(StepUnable),
        ["scene.answered"] = typeof(SceneAnswered),
        ["standoff.begun"] = typeof(StandOffBegun),
        ["temperature.taken"] = typeof(TemperatureTaken),
        ["kit.checked"] = typeof(KitChecked),
        ["sound.announced"] = typeof(SoundAnnounced),
        ["sound.recorded"] = typeof(SoundRecorded),
        ["clock.anchored"] = typeof(ClockAnchored),
        ["question.asked"] = typeof(QuestionAsked),
        ["answer.echoed"] = typeof(AnswerEchoed),
        ["answer.corrected"] = typeof(AnswerCorrected),
        ["code.asked"] = typeof(CodeAsked),
        ["code.accepted"] = typeof(CodeAccepted),
        ["code.failed"] = typeof(CodeFailed),
        ["step.confirmed"] = typeof(StepConfirmed),
        ["step.refused"] = typeof(StepRefused),
        ["speech.heard"] = typeof(SpeechHeard),
        ["prompt.spoken"] = typeof(PromptSpoken),
        ["prompt.failed"] = typeof(PromptFailed),
        ["device.lost"] = typeof(DeviceLost),
        ["device.returned"] = typeof(DeviceReturned),
        ["view.lost"] = typeof(ViewLost),
        ["point.opened"] = typeof(PointOpened),
        ["point.locked"] = typeof(PointLocked),
        ["point.unlocked"] = typeof(PointUnlocked),
        ["point.closed"] = typeof(PointClosed),
        ["tools.counted"] = typeof(ToolsCounted),
        ["person.changed"] = typeof(PersonChanged),
        ["phase.entered"] = typeof(PhaseEntered),
        ["wait.started"] = typeof(WaitStarted),
        ["wait.completed"] = typeof(WaitCompleted),
        ["wait.voided"] = typeof(WaitVoided),
        ["tester.proved"] = typeof(TesterProved),
        ["reading.taken"] = typeof(ReadingTaken),
        ["contact.confirmed"] = typeof(ContactConfirmed),
        ["dead.proved"] = typeof(DeadProved),
        ["dead.refused"] = typeof(DeadRefused),
        ["proof.voided"] = typeof(ProofVoided),
        ["disturbance.reported"] = typeof(DisturbanceReported),
        ["work.cleared"] = typeof(WorkCleared),
        ["work.stopped"] = typeof(WorkStopped),
        ["work.lapsed"] = typeof(WorkLapsed),
        ["checkin.asked"] = typeof(CheckInAsked),
        ["checkin.made"] = typeof(CheckInMade),
        ["checkin.sooner"] = typeof(CheckInSooner),
        ["checkin.unanswered"] = typeof(CheckInUnanswered),
        ["link.heard"] = typeof(LinkHeard),
        ["nosignal.arranged"] = typeof(NoSignalArranged),
        ["call.taken"] = typeof(CallTaken),
        ["alert.raised"] = typeof(AlertRaised),
        ["alert.taken"] = typeof(AlertTaken),
    }.ToFrozenDictionary();

    private static readonly FrozenDictionary<Type, string> ByType = ByName.ToFrozenDictionary(pair => pair.Value, pair => pair.Key);

    /// <summary>All type names.</summary>
    public static IEnumerable<string> Names => ByName.Keys;

    /// <summary>The type name of an event.</summary>
    public static string NameOf(JobEvent happened) => ByType[happened.GetType()];

    /// <summary>The record of a type name; null for a type that belongs to no job state.</summary>
    public static Type? RecordOf(string name) => ByName.GetValueOrDefault(name);
}
