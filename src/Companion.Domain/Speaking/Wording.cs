using System.Globalization;
using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
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
        NeedKind.NothingTouched when job.OnBreak => "A break. When you are back: if nothing was touched meanwhile, say nothing touched. If not, say wrong.",
        NeedKind.NothingTouched => "The Companion was not watching. If nothing was touched meanwhile, say nothing touched. If not, say wrong.",
        NeedKind.SceneAct or NeedKind.SceneQuestion or NeedKind.SceneRemedy or NeedKind.SceneReadBack => SceneWording.Ask(job.Scene!, question.Need),
        NeedKind.StandOff => SceneWording.StandOff(job),
        NeedKind.ChooseSheet => "Find the maker's marking. Say the two-digit number of its sheet.",
        NeedKind.CheckKit => $"{LookOver(job, question.Need)} Say checked, or cannot do.",
        NeedKind.Act => $"{Say(job)} Say done.",
        NeedKind.OpenPoint => $"{Say(job)} When that is done, say opened.",
        NeedKind.FitLock => $"{Holder(question.Need)}{Say(job)} Say fitted, lock, and its number.",
        NeedKind.WaitOver => $"{Say(job)}",
        NeedKind.ProveTester => Proving(job, question.Need),
        NeedKind.TakeReading => $"At {TestItems.PlaceOf(job, question.Need).Name}, measure {TestItems.PairOf(job, question.Need).Name}. Say the reading.",
        NeedKind.ConfirmContact => "Every reading was zero. If both probes touched bare metal, say bare metal. If not, say wrong.",
        NeedKind.ClaimDead => $"If the test at {TestItems.PlaceOf(job, question.Need).Name} is complete, say proved dead.",
        NeedKind.CoverLiveSide => $"{Say(job)} Say covered.",
        NeedKind.ClaimClear => "If all is open, locked and proved, say clear to work.",
        NeedKind.InabilityReason => "Why not? Say cannot reach, it is damaged, it is stuck, no tool, or not there. To go back, say wrong.",
        NeedKind.TakeWay => $"The sheet has another way, {WayName(job, question.Need)}. Say take the other way, or cannot do. To go back, say wrong.",
        NeedKind.GoOn => "Work is stopped. To go on, say ready.",
        NeedKind.HandOver => $"{job.Halt?.Reason} Treat as live, keep away. Say hand over.",
        _ => SecuringWording.Ask(job, question.Need),
    };

    /// <summary>What is asked, as the screen shows it.</summary>
    public static string AskOnScreen(Job job, Question question) => question.CodeIsOnlySpoken
        ? "Sound check. Say affirm, and the two digits that you hear. If you hear none, hold the button."
        : Ask(job, question);

    /// <summary>What is heard and must be confirmed.</summary>
    public static string Echo(Job job, Question question)
    {
        var heard = question.Echo is null ? string.Empty : $"{Heard(job, question)}. ";
        return question.Code is { } code
            ? $"{heard}If right, say affirm, {Digits(code)}."
            : $"{heard}Repeat it to confirm, or say wrong.";
    }

    /// <summary>What is missing, in the words of a refusal: the step whose turn it is.</summary>
    public static string Missing(Job job, Need need) => need.Kind switch
    {
        NeedKind.SoundCheck => "First the sound check.",
        NeedKind.AlarmHeard => "First answer the warning: say affirm.",
        NeedKind.NothingTouched => "First confirm that nothing was touched.",
        NeedKind.SceneAct or NeedKind.SceneQuestion or NeedKind.SceneRemedy or NeedKind.SceneReadBack => "First settle the arrival.",
        NeedKind.StandOff => "Stand off, keep away, hand over.",
        NeedKind.ChooseSheet => "First choose the sheet.",
        NeedKind.CheckKit => $"First look over: {ItemName(job, need)}.",
        NeedKind.InabilityReason => "First say why the step cannot be done.",
        NeedKind.TakeWay => "First say whether to take the other way.",
        NeedKind.GoOn => "Work is stopped. Say ready to go on.",
        NeedKind.HandOver => "Treat as live, keep away, hand over.",
        NeedKind.Working => "Say done work, hand over, or off work.",
        NeedKind.Nothing => string.Empty,
        NeedKind.ConfirmContact => "First say bare metal, or wrong.",
        NeedKind.TakeReading => $"The next is the reading, {TestItems.PairOf(job, need).Name}.",
        NeedKind.ProveTester => "The next is to prove the tester.",
        NeedKind.ClaimDead => "The next is to claim proved dead.",
        _ => SecuringWording.Missing(job, need) ?? $"The next is: {Say(job)}",
    };

    /// <summary>A number digit by digit with "decimal" for the point (ICAO Annex 10 volume II 5.2.1.4).</summary>
    public static string Digits(string? number) => number is null ? string.Empty : SpokenNumber.TrySay(number) ?? number;

    /// <summary>A time of the record: in the offset of the last entry, with its day unless that is the day of the last entry.</summary>
    public static string At(Job job, DateTimeOffset at)
    {
        var last = job.Clock.LastWall;
        var local = at.ToOffset(last.Offset);
        return local.ToString(local.Date == last.Date ? "HH:mm" : "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
    }

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
            : string.Join(" ", running.Select(run => $"{run.Rule.Name}, {Duration(run.Remaining(counted).SecondsRoundedUp)} left."));
    }

    /// <summary>The statement of the sheet that the job is done by, and what is peculiar to it.</summary>
    public static string SheetPinned(Sheet sheet) => $"Recorded: the sheet is {sheet.Vehicle}. {NoClassB(sheet)}".TrimEnd();

    /// <summary>
    /// What a technician must know of a vehicle that by its sheet holds no voltage class B (ISO 6469-3: over 60 volts DC): it burns all the
    /// same, and no step is left out for it. Empty for every other vehicle.
    /// </summary>
    public static string NoClassB(Sheet sheet) => sheet.HoldsClassB
        ? string.Empty
        : $"By this sheet the vehicle holds at most {sheet.HighestVolts} volts: no class B voltage. "
            + "Arcs and heat still burn. Everything else goes on as the sheet says.";

    /// <summary>The statement of proved dead: place, time, and what stays live (I15).</summary>
    public static string ProvedDead(Job job, TestPlaceId id)
    {
        var place = job.Sheet!.TestPlaces.First(candidate => candidate.Id == id);
        var at = job.Proofs.TryGetValue(id, out var proof) ? At(job, proof.Wall) : string.Empty;
        return $"Recorded: proved dead at {place.Name}, {at}. Still live: {job.Sheet.StaysLive}.";
    }

    /// <summary>The statement of clear to work: places, time, and what stays live (I15).</summary>
    public static string ClearToWork(Job job)
    {
        var places = string.Join(", ", job.Way!.TestPlaces.Select(place => place.Name));
        var at = job.Clearance is { } clearance ? At(job, clearance.Wall) : string.Empty;
        return $"Recorded: clear to work, {at}, proved dead at {places}. Still live: {job.Sheet!.StaysLive}. "
            + $"Test again within {Duration(job.Clearance is { } given ? (long)(given.DueWall - given.Wall).TotalSeconds : job.Sheet.RetestMinutes * 60L)}.";
    }

    private static string Heard(Job job, Question question)
    {
        var echo = question.Echo!;
        return echo.Phrase switch
        {
            Phrase.Sheet => $"Sheet {Digits(echo.Number)}, {echo.About?.TrimEnd('.')}",
            Phrase.Fitted => $"Lock {Digits(echo.Number)} fitted{InPlaceOf(job, question)}, {PointName(job)}",
            Phrase.Opened => $"Opened, {PointName(job)}",
            Phrase.Reading => $"{(echo.Below ? "Below " : string.Empty)}{Digits(echo.Number)} volts",
            Phrase.NothingShown => "Tester shows nothing",
            Phrase.ProvedDead or Phrase.ClearToWork => $"You said {PhraseBook.Words(echo.Phrase)}",
            _ => SecuringWording.Heard(job, echo) ?? PhraseBook.Words(echo.Phrase),
        };
    }

    /// <summary>One person has one lock on a point: another number stands for the old one, which is then no longer asked for.</summary>
    private static string InPlaceOf(Job job, Question question)
    {
        var holder = question.Need.Subject.Split(TestItems.Separator) is [_, var named] ? named : job.Technician;
        return job.Locks.FirstOrDefault(fitted => fitted.Point == job.CurrentStep?.Point && fitted.Holder == holder) is { } old && old.Number != question.Echo!.Number
            ? $" in place of lock {Digits(old.Number)}, which is off"
            : string.Empty;
    }

    /// <summary>The first proving also says where the test is done, in the sheet's words.</summary>
    private static string Proving(Job job, Need need)
    {
        var place = TestItems.PlaceOf(job, need);
        var where = job.Test?.Place == place.Id ? string.Empty : $"{Say(job)} ";
        var parts = need.Subject.Split(TestItems.Separator);
        var again = parts[1] == "after" ? " again" : string.Empty;
        return $"{where}Prove the tester{again} on the known source, {parts[2].ToUpperInvariant()}. Say the volts, digit by digit, or nothing shown.";
    }

    /// <summary>Everybody but the technician is called by crew number.</summary>
    private static string Holder(Need need) =>
        need.Subject.Split(TestItems.Separator) is [_, var holder] ? $"Crew number {Digits(holder)}, your own lock too. " : string.Empty;

    private static string Say(Job job) => job.CurrentStep?.Say ?? string.Empty;

    private static string PointName(Job job) =>
        job.Sheet?.Points.FirstOrDefault(point => point.Id == job.CurrentStep?.Point)?.Name ?? string.Empty;

    /// <summary>Gloves are looked over and air-tested before each day's use and after any incident (29 CFR 1910.137(c)(2)(ii)).</summary>
    private static string LookOver(Job job, Need need) => job.Kit.FirstOrDefault(item => item.Id.Value == need.Subject)?.Kind == KitKind.Gloves
        ? $"Look over: {ItemName(job, need)}. Roll each one up and listen: no air may escape."
        : $"Look over: {ItemName(job, need)}.";

    private static string ItemName(Job job, Need need) => job.Kit.FirstOrDefault(item => item.Id.Value == need.Subject)?.Name ?? need.Subject;

    private static string WayName(Job job, Need need) =>
        job.Sheet?.Alternatives.FirstOrDefault(way => way.Id.Value == need.Subject)?.Name ?? need.Subject;
}
