using Companion.Domain.Asking;
using Companion.Domain.HandingOver;
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
}
