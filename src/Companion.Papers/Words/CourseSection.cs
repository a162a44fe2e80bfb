using System.Collections.Immutable;
using Companion.Domain.Events;
using Companion.Review;
using Companion.Review.Lines;

namespace Companion.Papers.Words;

/// <summary>
/// The course of the job, entry by entry: what was done and what went against it. Questions, codes and what was said stay in the record.
/// How a check-in was worded is on no paper (I10).
/// </summary>
internal static class CourseSection
{
    /// <summary>Most rows of one list: a dozen pages. A record can be longer than anybody prints.</summary>
    public const int MostRows = 500;

    public static PaperSection Of(RecordEnd end) => new("Course of the job", Rows(end, entry => IsStep(entry.Happened)));

    /// <summary>What was refused, void, stopped or lost.</summary>
    public static PaperSection AgainstIt(RecordEnd end) => new("Refused, void, stopped or lost", Rows(end, entry => IsAgainst(entry.Happened)));

    private static ImmutableArray<PaperRow> Rows(RecordEnd end, Func<RecordedEntry, bool> told)
    {
        var all = end.Record.Entries.Where(told).ToList();
        var rows = ImmutableArray.CreateBuilder<PaperRow>();
        var day = default(DateTime);
        foreach (var entry in all.Take(MostRows))
        {
            var at = end.Local(entry.Entry.Time);
            if (at.Date != day)
            {
                day = at.Date;
                rows.Add(PaperRow.Of(PaperText.Day(at)));
            }

            rows.Add(new PaperRow($"{PaperText.Second(at)}  entry {PaperText.Number(entry.Sequence)}", PaperText.Stopped(Words(end, entry)), true));
        }

        if (all.Count > MostRows)
        {
            rows.Add(PaperRow.Of($"And {PaperText.Number(all.Count - MostRows)} more, which are in the record and not on this paper."));
        }

        return rows.ToImmutable();
    }

    private static string Words(RecordEnd end, RecordedEntry entry) => entry.Happened switch
    {
        CheckInMade => "Checked in",
        ReadingTaken taken => $"{TestSection.Place(end, taken.TestPlace)}, {TestSection.Pair(end, taken.TestPlace, taken.Pair)}: {TestSection.Shown(taken)}{(taken.Purpose == ReadingPurpose.Watching ? ", while watching" : string.Empty)}",
        TesterProved proved => $"{TestSection.Place(end, proved.TestPlace)}: tester {(proved.Ok ? "proved" : "not proved")} {(proved.Phase == ProvingPhase.Before ? "before the readings" : "after the readings")}, {proved.Indicated} V {proved.Kind.ToString().ToUpperInvariant()}",
        JobOpened opened => $"Job opened by {PaperText.Crew(opened.Technician)}",
        PersonChanged changed => $"{PaperText.Sentence(PaperText.Crew(changed.Person))}: {Change(changed.Change)}",
        PhaseEntered phase => phase.Which == JobPhase.Break ? "A break began" : "Putting back began",
        ToolsCounted tools => $"{PaperText.Number(tools.Count)} tools {(tools.Back ? "back from" : "out to")} the vehicle",
        TemperatureTaken taken => $"Temperature of the pack, from outside: {PaperText.Degrees(taken.Tenths)}",
        StandOffBegun off => $"Stand-off: {off.Reason}",
        WayTaken taken => $"Another way of the sheet is followed: {taken.Way}",
        PointUnlocked unlocked when unlocked.Procedure => $"{EntryWords.Of(entry, end.Job?.Sheet)}, of {PaperText.Crew(unlocked.Holder)}, by the employer's procedure; {PaperText.Crew(unlocked.Remover)} answers for it",
        _ => EntryWords.Of(entry, end.Job?.Sheet),
    };

    private static string Change(PersonChange change) => change switch
    {
        PersonChange.Arrived => "there, watches",
        PersonChange.Left => "left",
        PersonChange.Joined => "works on the vehicle too",
        _ => "is the technician from here on",
    };

    private static bool IsStep(JobEvent? happened) => happened is JobOpened or JobClosed or JobHandedOver or SheetPinned or WayTaken or PointOpened
        or PointLocked or PointUnlocked or PointClosed or WaitStarted or WaitCompleted or TesterProved or ReadingTaken or ContactConfirmed or DeadProved
        or WorkCleared or StandOffBegun or TemperatureTaken or PersonChanged or PhaseEntered or ToolsCounted or CheckInMade || IsAgainst(happened);

    private static bool IsAgainst(JobEvent? happened) => happened is StepRefused or StepUnable or DeadRefused or ProofVoided or WaitVoided or WorkStopped
        or WorkLapsed or DisturbanceReported or AlertRaised or CheckInUnanswered or StandOffBegun or DeviceLost or TesterProved { Ok: false }
        or KitChecked { Ok: false } or ClockAnchored { Why: not AnchorReason.Tick };
}
