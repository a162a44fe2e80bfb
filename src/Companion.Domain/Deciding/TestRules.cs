using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;

namespace Companion.Domain.Deciding;

/// <summary>What a number said during a dead test leads to (I3).</summary>
internal static class TestRules
{
    /// <summary>The tester was held to the known source.</summary>
    public static Refusal? Prove(Turn turn, Need need, Echo echo, Answer answer)
    {
        var place = TestItems.PlaceOf(turn.Job, need);
        var (phase, kind) = ProvingOf(need);
        var indicated = Volts.TryParse(echo.Number) ?? default;
        var tester = TesterOf(turn.Job, answer)!;
        var ok = echo.Phrase == Phrase.Reading && ShowsSource(turn.Job, kind, indicated) && SameTester(turn.Job, place, tester);
        turn.Add(new TesterProved(tester.Id, place.Id, phase, kind, indicated, ok));
        if (ok)
        {
            return null;
        }

        if (phase == ProvingPhase.Before)
        {
            VoidRules.AbandonTest(turn, "the tester did not show the known source");
            return new Refusal($"The tester does not show the known source. {Instead(turn.Job, answer)}");
        }

        turn.Add(new DeadRefused(place.Id, "The tester failed after the test. All readings are discarded.", 0));
        VoidRules.AbandonTest(turn, "the tester did not show the known source afterwards");
        return new Refusal($"The tester failed after the test. All readings are discarded. {Instead(turn.Job, answer)}");
    }

    /// <summary>A tester that failed is out of use; only one that was looked over in this job stands in for it.</summary>
    private static string Instead(Job job, Answer answer) => TesterOf(job, answer) is { } other
        ? $"Do not use it. Take the other one: {other.Name}."
        : "Do not use it before you have looked it over again. If it is not fit, say cannot do.";

    /// <summary>A confirmed reading is final: any above the limit ends the test as live.</summary>
    public static Refusal? Read(Turn turn, Need need, Echo echo, Answer answer)
    {
        var place = TestItems.PlaceOf(turn.Job, need);
        var pair = TestItems.PairOf(turn.Job, need);
        var volts = Volts.Parse(echo.Number!);
        turn.Add(new ReadingTaken(
            place.Id,
            pair.Id,
            echo.Below ? null : volts,
            echo.Below ? volts : null,
            pair.Kind,
            TesterOf(turn.Job, answer)!.Id,
            ReadingPurpose.DeadTest));
        if (AboveHighest(turn.Job, volts))
        {
            return StopForWrongSheet(turn, $"{Speaking.Wording.Digits(volts.ToString())} volts is more than this vehicle can hold. The sheet is the wrong one.");
        }

        if (!VoltageLimits.Passes(volts, place.Limit(pair.Kind)))
        {
            Live(turn, place, pair, volts);
            return null;
        }

        return Consistent(turn.Job, place) ? null : Misplaced(turn, place);
    }

    /// <summary>Why a number cannot be a reading here; null when it can.</summary>
    public static Refusal? CheckNumber(KitItem tester, Need need, Echo echo, VoltageKind kind)
    {
        if (echo.Phrase == Phrase.NothingShown)
        {
            return null;
        }

        if (echo.Phrase == Phrase.OtherUnit)
        {
            return new Refusal("Say the reading in volts.");
        }

        if (Volts.TryParse(echo.Number) is not { } volts)
        {
            return new Refusal($"That is not a reading. Say it digit by digit.");
        }

        if (echo.Kind is { } said && said != kind)
        {
            return new Refusal($"This is measured in {(kind == VoltageKind.Dc ? "DC" : "AC")}. Set the tester and measure again.");
        }

        return echo.Below ? CheckBelow(tester, need, volts, kind) : null;
    }

    /// <summary>The tester in use: the one that the answer names, or the kit's.</summary>
    public static KitItem? TesterOf(Job job, Answer answer) => job.Kit.FirstOrDefault(item =>
        item.Kind == KitKind.Tester && job.Checked.Contains(item.Id) && (answer.Tester is null || item.Id == answer.Tester));

    /// <summary>The phase and the kind of a proving.</summary>
    public static (ProvingPhase Phase, VoltageKind Kind) ProvingOf(Need need)
    {
        var parts = need.Subject.Split(TestItems.Separator);
        return (parts[1] == "before" ? ProvingPhase.Before : ProvingPhase.After, Enum.Parse<VoltageKind>(parts[2]));
    }

    /// <summary>A voltage that the vehicle cannot hold: the sheet is the wrong one (I21).</summary>
    public static bool AboveHighest(Job job, Volts volts) => volts.Magnitude > Volts.Of(job.Sheet!.HighestVolts);

    /// <summary>Stops the job for good.</summary>
    public static Refusal? StopForWrongSheet(Turn turn, string reason)
    {
        VoidRules.VoidEverythingOn(turn, _ => true, "the sheet is in doubt");
        turn.Add(new WorkStopped(reason, true));
        turn.Add(new AlertRaised(AlarmKind.Stop, $"Stop. {reason} Treat as live, keep away, hand over."));
        return null;
    }

    private static bool SameTester(Job job, TestPlace place, KitItem tester) => job.Test?.Place != place.Id || job.Test.Tester == tester.Id;

    private static bool ShowsSource(Job job, VoltageKind kind, Volts indicated) => job.Kit
        .Where(item => item.Kind == KitKind.ProvingSource && job.Checked.Contains(item.Id))
        .Any(item => item.ProvesIn(kind)?.Accepts(indicated) == true);

    /// <summary>N is the lowest indication of the tester in use, not of another one in the kit.</summary>
    private static Refusal? CheckBelow(KitItem tester, Need need, Volts volts, VoltageKind kind)
    {
        var lowest = tester.Lowest(kind);
        if (need.Kind != NeedKind.TakeReading)
        {
            return new Refusal("Say the number that the tester shows on the known source.");
        }

        return lowest == volts
            ? null
            : new Refusal($"Below is said with the lowest indication of the tester, {lowest?.ToString() ?? "none"} volts.");
    }

    /// <summary>Live: the warning, no proof, and the waits of what the place covers begin again.</summary>
    public static void Live(Turn turn, TestPlace place, ProbePair pair, Volts volts)
    {
        turn.Add(new DeadRefused(place.Id, $"Live: {Speaking.Wording.Digits(volts.ToString())} volts, {pair.Name}.", 0));
        VoidRules.AbandonTest(turn, "a reading was above the limit");
        VoidRules.VoidEverythingOn(turn, place.Covers, "a reading was above the limit");
        turn.Add(new AlertRaised(
            AlarmKind.Live, $"Live. {Speaking.Wording.Digits(volts.ToString())} volts, {pair.Name}. Hands off, stand clear. The wait begins again."));
    }

    private static bool Consistent(Job job, TestPlace place)
    {
        var rails = Shown(job, place, PairRole.RailToRail);
        var positive = Shown(job, place, PairRole.PositiveToChassis);
        var negative = Shown(job, place, PairRole.NegativeToChassis);
        return rails is null || positive is null || negative is null
            || ProbeConsistency.Fits(rails.Value, positive.Value, negative.Value, job.Sheet!.FloorVolts);
    }

    /// <summary>What a pair of rails showed; null while it was not measured. A "below N" reading lies somewhere from nothing to N.</summary>
    private static VoltsBetween? Shown(Job job, TestPlace place, PairRole role)
    {
        var pair = place.Pairs.FirstOrDefault(candidate => candidate.Role == role && candidate.Kind == VoltageKind.Dc);
        if (pair is null || !job.Test!.Readings.TryGetValue(pair.Id, out var taken))
        {
            return null;
        }

        var magnitude = taken.Reading.Volts.Magnitude;
        return new VoltsBetween(taken.Reading.Below ? Volts.Of(0) : magnitude, magnitude);
    }

    /// <summary>The probes missed the metal: nothing that was read counts.</summary>
    public static Refusal? NoContact(Turn turn, TestPlace place)
    {
        turn.Add(new DeadRefused(place.Id, "The probes missed the metal. Begin the test again.", 0));
        VoidRules.AbandonTest(turn, "the probes missed the metal");
        return null;
    }

    private static Refusal Misplaced(Turn turn, TestPlace place)
    {
        const string reason = "The readings do not fit together. A probe was misplaced or missed the metal. Begin the test again.";
        turn.Add(new DeadRefused(place.Id, reason, 0));
        VoidRules.AbandonTest(turn, "the readings did not fit together");
        return new Refusal(reason);
    }
}
