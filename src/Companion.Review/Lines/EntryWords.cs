using System.Globalization;
using System.Text;
using Companion.Domain;
using Companion.Domain.Events;
using Companion.Domain.Sheets;

namespace Companion.Review.Lines;

/// <summary>An entry in plain words. Personal texts that were erased, or that are not at hand, are left out.</summary>
public static class EntryWords
{
    /// <summary>The words.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="sheet">The sheet that names things; null leaves them their ids.</param>
    public static string Of(RecordedEntry entry, Sheet? sheet) => entry.Happened switch
    {
        null when entry.IsNewer => $"Entry of the type {entry.Entry.Type}, made by a newer Companion: what it says is not read here.",
        null => $"Entry of the type {entry.Entry.Type}, which cannot be read here.",
        JobOpened opened => $"Job opened{About(opened.Name)}",
        JobClosed closed => $"Job closed: {closed.Reason}",
        JobHandedOver over => $"Handed over: {over.Reason}",
        SheetPinned pinned => $"Sheet: {pinned.Sheet.Vehicle}",
        KitChecked kit => kit.Ok ? $"Checked: {Plain(kit.Kind)}" : $"Not fit: {Plain(kit.Kind)}. {kit.Reason}",
        QuestionAsked asked => $"Asked: {Plain(asked.Question)}{Step(sheet, asked.Step)}",
        StepConfirmed done => $"Confirmed: {Plain(done.Question)}{Step(sheet, done.Step)}",
        StepRefused refused => $"Refused: {refused.Reason}{Left(refused.RemainingSeconds)}{Step(sheet, refused.Step)}",
        StepUnable unable => $"Cannot do{Step(sheet, unable.Step.Value)}",
        AnswerEchoed echoed => $"Repeated: {Plain(echoed.Phrase)} {echoed.Number}".TrimEnd(),
        AnswerCorrected => "Corrected: the echo was wrong",
        CodeAsked asked => $"Code asked: {asked.Code}",
        CodeAccepted => "Code accepted",
        CodeFailed failed => $"Code wrong: {failed.Reason}",
        SpeechHeard { Accepted: true } heard => $"Heard{About(heard.Text)}",
        SpeechHeard heard => $"Heard, not accepted{About(heard.Text)}. {heard.Reason}",
        PromptSpoken spoken => $"Said: {spoken.Text}",
        PromptFailed failed => $"Not said to the end: {failed.Text} ({failed.Reason})",
        PointOpened opened => $"Opened: {Point(sheet, opened.Point)}",
        PointLocked locked => $"Lock {locked.Lock} fitted: {Point(sheet, locked.Point)}",
        PointUnlocked unlocked => $"Lock {unlocked.Lock} removed: {Point(sheet, unlocked.Point)}",
        PointClosed closed => $"Closed: {Point(sheet, closed.Point)}",
        DisturbanceReported reported => $"Disturbance: {Plain(reported.What)}",
        WaitStarted started => $"Wait started: {Wait(sheet, started.Wait)}, {started.Seconds} s",
        WaitCompleted over => $"Wait over: {Wait(sheet, over.Wait)}. Not yet tested.",
        WaitVoided voided => $"Wait void: {Wait(sheet, voided.Wait)}. {voided.Reason}",
        TesterProved proved => $"Tester {(proved.Ok ? "proved" : "not proved")} {Plain(proved.Phase)} the readings: {proved.Indicated} V",
        ReadingTaken taken => $"Reading {(taken.Below is { } below ? $"below {below}" : taken.Volts?.ToString())} V {Plain(taken.Kind)} at {taken.Pair}, {Purpose(taken)}",
        DeadProved proved => $"Proved dead: {Place(sheet, proved.TestPlace)}. The pack and its side of the open plug stay live.",
        DeadRefused refused => $"Proved dead refused: {Place(sheet, refused.TestPlace)}. {refused.Reason}{Left(refused.RemainingSeconds)}",
        ProofVoided voided => $"Proof void: {Place(sheet, voided.TestPlace)}. {voided.Reason}",
        WorkStopped stopped => $"Stopped: {stopped.Reason}",
        WorkLapsed lapsed => $"Clear to work lapsed: {lapsed.Reason}",
        WorkCleared => "Clear to work",
        AlertRaised raised => $"Alert: {raised.Alert}",
        AlertTaken => "Alert answered",
        CheckInMade { Kind.Text: CheckInMade.QuietKind } => "Check-in with the quiet word: silent alert",
        CheckInMade made => $"Checked in by {Plain(made.By)}",
        CheckInAsked => "Asked to check in",
        CheckInSooner => "The next check-in falls due sooner",
        CheckInUnanswered => "Nobody answered the check-in",
        DeviceLost lost => $"Lost: {lost.Which}. {lost.Reason}",
        DeviceReturned back => $"Back: {back.Which}",
        ViewLost lost => $"The view {lost.Which} had no word from the engine",
        SoundAnnounced announced => $"Told that sound is recorded, kept {announced.Days} days, by order{About(announced.OrderedBy)}",
        SoundRecorded { Cut: true } => "The recording of sound was cut off",
        SoundRecorded { Missing: > 0 } part => $"Sound recorded, with {part.Missing} ms missing",
        ClockAnchored { Why: AnchorReason.Start } => "The app was started again in the middle of the job",
        ClockAnchored { Why: AnchorReason.Resume } => "The tablet slept, or the app stood still",
        ClockAnchored { Why: AnchorReason.Step } => "The wall clock was set",
        var other => Plain(other.GetType().Name),
    };

    private static string About(Personal? text) => text?.Text is { } words ? $": {words}" : string.Empty;

    private static string Left(long seconds) => seconds > 0 ? string.Create(CultureInfo.InvariantCulture, $" {seconds} s are left.") : string.Empty;

    private static string Step(Sheet? sheet, string step) => step.Length == 0
        ? string.Empty
        : $" ({sheet?.Steps.FirstOrDefault(each => each.Id.Value == step)?.Say ?? step})";

    private static string Purpose(ReadingTaken taken) => taken.Purpose == ReadingPurpose.DeadTest ? "dead test" : "watching, never counts";

    private static string Point(Sheet? sheet, PointId id) => sheet?.Points.FirstOrDefault(point => point.Id == id)?.Name ?? id.Value;

    private static string Wait(Sheet? sheet, WaitId id) => sheet?.Waits.FirstOrDefault(wait => wait.Id == id)?.Name ?? id.Value;

    private static string Place(Sheet? sheet, TestPlaceId id) => sheet?.TestPlaces.FirstOrDefault(place => place.Id == id)?.Name ?? id.Value;

    private static string Plain(Enum value) => Plain(value.ToString());

    /// <summary>"OpenPoint" becomes "open point".</summary>
    private static string Plain(string name)
    {
        var words = new StringBuilder();
        foreach (var letter in name)
        {
            _ = char.IsUpper(letter) && words.Length > 0 ? words.Append(' ') : words;
            words.Append(char.ToLowerInvariant(letter));
        }

        return words.ToString();
    }
}
