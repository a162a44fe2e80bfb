using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Domain.Speaking;

/// <summary>The words of every question and statement. British spelling; numbers that matter digit by digit; "safe" is never said.</summary>
public static class Wording
{
    /// <summary>What is asked, with what may be answered.</summary>
    public static string Ask(Job job, Question question) => question.Need.Kind switch
    {
        NeedKind.SoundCheck => $"Sound check. Say affirm, {Digits(question.Code)}.",
        NeedKind.AlarmHeard => job.Alarm is { } alarm ? $"{alarm.Text} Say affirm." : string.Empty,
        NeedKind.NothingTouched => "The Companion was not watching. If nothing was touched meanwhile, say nothing touched. If not, say wrong.",
        NeedKind.ChooseSheet => "Find the maker's marking. Say the two-digit number of its sheet.",
        NeedKind.CheckKit => $"Look over: {ItemName(job, question.Need)}. Say checked, or cannot do.",
        NeedKind.Act => $"{Say(job)} Say done.",
        NeedKind.OpenPoint => $"{Say(job)} When it is open, say opened.",
        NeedKind.FitLock => $"{Say(job)} Say fitted, lock, and its number.",
        NeedKind.WaitOver => $"{Say(job)}",
        NeedKind.ProveTester => Proving(job, question.Need),
        NeedKind.TakeReading => $"At {TestItems.PlaceOf(job, question.Need).Name}, measure {TestItems.PairOf(job, question.Need).Name}. Say the reading.",
        NeedKind.ConfirmContact => "Every reading was zero. If both probes touched bare metal, say bare metal. If not, say wrong.",
        NeedKind.ClaimDead => $"If the test at {TestItems.PlaceOf(job, question.Need).Name} is complete, say proved dead.",
        NeedKind.CoverLiveSide => $"{Say(job)} Say covered.",
        NeedKind.ClaimClear => "If all is open, locked and proved, say clear to work.",
        NeedKind.Working => "Say hand over when the work ends. Say stop at any time.",
        NeedKind.InabilityReason => "Why not? Say cannot reach, it is damaged, it is stuck, no tool, or not there. To go back, say wrong.",
        NeedKind.TakeWay => $"The sheet has another way, {WayName(job, question.Need)}. Say take the other way, or cannot do. To go back, say wrong.",
        NeedKind.GoOn => "Work is stopped. To go on, say ready.",
        NeedKind.HandOver => $"{job.Halt?.Reason} Treat as live, keep away. Say hand over.",
        _ => string.Empty,
    };

    /// <summary>What is heard and must be confirmed.</summary>
    public static string Echo(Job job, Question question)
    {
        var heard = question.Echo is null ? string.Empty : $"{Heard(job, question)}. ";
        return question.Code is { } code
            ? $"{heard}If right, say affirm, {Digits(code)}."
            : $"{heard}Say it again to confirm, or say wrong.";
    }

    /// <summary>What is missing, in the words of a refusal: the step whose turn it is.</summary>
    public static string Missing(Job job, Need need) => need.Kind switch
    {
        NeedKind.SoundCheck => "First the sound check.",
        NeedKind.AlarmHeard => "First answer the warning: say affirm.",
        NeedKind.NothingTouched => "First confirm that nothing was touched.",
        NeedKind.ChooseSheet => "First choose the sheet.",
        NeedKind.CheckKit => $"First look over: {ItemName(job, need)}.",
        NeedKind.InabilityReason => "First say why the step cannot be done.",
        NeedKind.TakeWay => "First say whether to take the other way.",
        NeedKind.GoOn => "Work is stopped. Say ready to go on.",
        NeedKind.HandOver => "Treat as live, keep away, hand over.",
        NeedKind.Working => "Clear to work is given.",
        NeedKind.Nothing => string.Empty,
        NeedKind.TakeReading => $"The next is the reading, {TestItems.PairOf(job, need).Name}.",
        NeedKind.ProveTester => "The next is to prove the tester.",
        NeedKind.ClaimDead => "The next is to claim proved dead.",
        _ => $"The next is: {Say(job)}",
    };

    /// <summary>A number digit by digit with "decimal" for the point (ICAO Annex 10 volume II 5.2.1.4).</summary>
    public static string Digits(string? number) => number is null ? string.Empty : SpokenNumber.TrySay(number) ?? number;

    /// <summary>A length of time in words that are heard at a glance: "ten minutes", "1 minute 30 seconds".</summary>
    public static string Duration(long seconds)
    {
        var minutes = seconds / 60;
        var rest = seconds % 60;
        var inMinutes = minutes == 1 ? "1 minute" : $"{minutes} minutes";
        var inSeconds = rest == 1 ? "1 second" : $"{rest} seconds";
        return minutes == 0 ? inSeconds : rest == 0 ? inMinutes : $"{inMinutes} {inSeconds}";
    }

    /// <summary>What is still to wait, for "how long".</summary>
    public static string HowLong(Job job, Ticks counted)
    {
        var running = job.Waits.Values.Where(run => run.CompletedAt is null).OrderBy(run => run.StartedAt).ToList();
        return running.Count == 0
            ? "No wait is running."
            : string.Join(" ", running.Select(run => $"{run.Rule.Name}, {Duration(run.Remaining(counted).SecondsRoundedUp)}."));
    }

    /// <summary>The statement of proved dead: place, time, and what stays live (I15).</summary>
    public static string ProvedDead(Job job, TestPlaceId id)
    {
        var place = job.Sheet!.TestPlaces.First(candidate => candidate.Id == id);
        var at = job.Proofs.TryGetValue(id, out var proof) ? proof.Wall.ToString("HH:mm", null) : string.Empty;
        return $"Recorded: proved dead at {place.Name}, {at}. Still live: {job.Sheet.StaysLive}.";
    }

    /// <summary>The statement of clear to work: places, time, and what stays live (I15).</summary>
    public static string ClearToWork(Job job)
    {
        var places = string.Join(", ", job.Way!.TestPlaces.Select(place => place.Name));
        var at = job.Clearance?.Wall.ToString("HH:mm", null);
        return $"Recorded: clear to work, {at}, proved dead at {places}. Still live: {job.Sheet!.StaysLive}. "
            + $"Test again within {Duration(job.Sheet.RetestMinutes * 60L)}.";
    }

    private static string Heard(Job job, Question question)
    {
        var echo = question.Echo!;
        return echo.Phrase switch
        {
            Phrase.Sheet => $"Sheet {Digits(echo.Number)}, {echo.About?.TrimEnd('.')}",
            Phrase.Fitted => $"Lock {Digits(echo.Number)} fitted, {PointName(job)}",
            Phrase.Opened => $"Opened, {PointName(job)}",
            Phrase.Reading => $"{(echo.Below ? "Below " : string.Empty)}{Digits(echo.Number)} volts",
            Phrase.NothingShown => "Tester shows nothing",
            Phrase.HandOver => "Hand over",
            _ => PhraseBook.Words(echo.Phrase),
        };
    }

    /// <summary>The first proving also says where the test is done, in the sheet's words.</summary>
    private static string Proving(Job job, Need need)
    {
        var place = TestItems.PlaceOf(job, need);
        var where = job.Test?.Place == place.Id ? string.Empty : $"{Say(job)} ";
        var parts = need.Subject.Split(TestItems.Separator);
        var again = parts[1] == "after" ? " again" : string.Empty;
        return $"{where}Prove the tester{again} on the known source, {parts[2].ToUpperInvariant()}. Say what it shows.";
    }

    private static string Say(Job job) => job.CurrentStep?.Say ?? string.Empty;

    private static string PointName(Job job) =>
        job.Sheet?.Points.FirstOrDefault(point => point.Id == job.CurrentStep?.Point)?.Name ?? string.Empty;

    private static string ItemName(Job job, Need need) => job.Kit.FirstOrDefault(item => item.Id.Value == need.Subject)?.Name ?? need.Subject;

    private static string WayName(Job job, Need need) =>
        job.Sheet?.Alternatives.FirstOrDefault(way => way.Id.Value == need.Subject)?.Name ?? need.Subject;
}
