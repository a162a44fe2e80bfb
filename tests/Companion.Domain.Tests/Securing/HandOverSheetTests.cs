using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.HandingOver;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Securing;

public sealed class HandOverSheetTests
{
    [Fact]
    public void An_isolated_vehicle_is_told_point_by_point_with_the_last_readings_and_what_stays_live()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        var sheet = HandOverSheet.Of(bench.Job!);
        Assert.StartsWith("Vehicle isolated and marked, clear to work since ", sheet.Standing, StringComparison.Ordinal);

        // A pack of more than 60 V stays what it is: NTSB SR-20/01, as reported.
        Assert.EndsWith("The battery is not de-energised.", sheet.Standing, StringComparison.Ordinal);
        Assert.Equal(bench.Sheet.Points.Length, sheet.Points.Length);
        var plug = bench.Job!.Locks.First(fitted => fitted.Point.Value == "rearplug");
        Assert.Contains(sheet.Points, line => line.EndsWith($": open, lock {plug.Number} of crew-4.", StringComparison.Ordinal));
        Assert.Contains(sheet.Tests, line => line.Contains("proved dead at ", StringComparison.Ordinal));
        Assert.Contains(sheet.Tests, line => line.StartsWith("Last readings: positive to negative 3 V DC at ", StringComparison.Ordinal));
        Assert.Contains(sheet.Hazards, line => line == $"Stays live: {bench.Sheet.StaysLive}.");
        Assert.Contains(sheet.Hazards, line => line.StartsWith("Moving: driven wheels off the ground", StringComparison.Ordinal));
        Assert.Contains(sheet.Hazards, line => line.StartsWith("Only who fitted a lock", StringComparison.Ordinal));
    }

    [Fact]
    public void A_disturbed_vehicle_is_told_as_live_with_what_is_not_known()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(Phrase.PlugRefitted);
        var sheet = HandOverSheet.Of(bench.Job!);
        Assert.Equal("Not isolated: treat as live.", sheet.Standing);
        Assert.Contains(sheet.Points, line => line.Contains(": not known to be open, lock ", StringComparison.Ordinal));
        Assert.Contains(sheet.Tests, line => line.EndsWith(": not proved dead, or no longer.", StringComparison.Ordinal));
        Assert.Contains(sheet.Hazards, line => line.StartsWith("Not answered: Disturbed", StringComparison.Ordinal));
    }

    [Fact]
    public void A_vehicle_that_was_put_back_is_told_as_live()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Claim(Phrase.WorkDone);
        Assert.Equal("Partly put back: treat as live.", HandOverSheet.Of(bench.Job!).Standing);
        bench.Until(NeedKind.PutBack);
        var sheet = HandOverSheet.Of(bench.Job!);
        Assert.Equal("Put back: every lock is removed and every point closed. The vehicle is live.", sheet.Standing);
        Assert.All(bench.Job!.Way!.Points, point => Assert.Contains(sheet.Points, line => line.EndsWith(": closed.", StringComparison.Ordinal)));
    }

    [Fact]
    public void Readings_of_a_place_that_is_not_proved_are_told_as_proving_nothing_and_watching_ones_as_that()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 3).Until(NeedKind.WaitOver);
        bench.Say(Phrase.Watching, "390");
        Assert.Contains(HandOverSheet.Of(bench.Job!).Tests, line => line.StartsWith(
            "Last readings, which prove nothing: positive to negative while watching 390 V DC at ", StringComparison.Ordinal));
    }

    [Fact]
    public void The_makers_exception_for_moving_is_quoted_and_the_rule_stays()
    {
        var bench = new JobBench { Sheet = DemoSheets.Van() with { Moving = "winched at walking pace" } }.Open().Until(NeedKind.Working);
        Assert.Contains(
            "Moving: driven wheels off the ground; a turned wheel undoes what was proved. By the maker's method: winched at walking pace.",
            HandOverSheet.Of(bench.Job!).Hazards);
    }

    // I15: clear to work was the technician's; whoever takes over has none.
    [Fact]
    public void A_vehicle_that_was_handed_over_was_told_as_clear_to_work_for_ever()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Claim(Phrase.HandOver);
        Assert.Equal(
            "Vehicle isolated and marked when it was handed over. The battery is not de-energised. Nobody is clear to work: test again first.",
            HandOverSheet.Of(bench.Job!).Standing);
    }

    [Fact]
    public void Locks_that_came_off_at_the_hand_over_were_told_as_fitted()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        var plug = bench.Job!.Locks.First(fitted => fitted.Point.Value == "rearplug");
        bench.Claim(Phrase.HandOverExchanged);
        Assert.Contains(
            HandOverSheet.Of(bench.Job).Points,
            line => line.EndsWith($": open, lock {plug.Number} of crew-4 came off for one of whoever took over.", StringComparison.Ordinal));
    }

    // I2: until "nothing touched" is confirmed, nobody knows.
    [Fact]
    public void What_nobody_watched_was_told_as_open_and_proved_dead()
    {
        var bench = new JobBench().Open().Until(NeedKind.ClaimClear);
        bench.Time.Sleep(Ticks.OfSeconds(60));
        bench.Do(new Tick());
        Assert.NotEmpty(bench.Job!.Proofs);
        var sheet = HandOverSheet.Of(bench.Job);
        Assert.All(sheet.Tests, line => Assert.DoesNotContain("proved dead at", line, StringComparison.Ordinal));
        Assert.All(sheet.Points, line => Assert.DoesNotContain(": open,", line, StringComparison.Ordinal));
        Assert.Contains("After a gap nobody has confirmed that nothing was touched meanwhile.", sheet.Hazards);
        bench.Claim(Phrase.NothingTouched);
        Assert.Contains(HandOverSheet.Of(bench.Job).Tests, line => line.Contains("proved dead at", StringComparison.Ordinal));
    }

    // A job over midnight, and one over the end of summer time: 02:50 and then 02:10 of the same night.
    [Fact]
    public void A_time_of_another_day_or_offset_was_told_as_one_of_today()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Time.ChangeOffset(TimeSpan.Zero);
        bench.Say(Phrase.KeyOn);
        Assert.Contains(HandOverSheet.Of(bench.Job!).Tests, line => line.Contains("3 V DC at 21:", StringComparison.Ordinal));
        bench.Time.Pass(Ticks.OfSeconds(3 * 3600));
        bench.Say(Phrase.Affirm);
        Assert.Contains(HandOverSheet.Of(bench.Job!).Tests, line => line.Contains("3 V DC at 2026-11-25 21:", StringComparison.Ordinal));
    }
}
