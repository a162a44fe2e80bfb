using Companion.Domain.Sheets;

namespace Companion.Domain.Tests.Sheets;

public sealed class WayRulesTests
{
    private static readonly Sheet Good = SampleSheet.Of();

    [Fact]
    public void A_point_is_opened_once_in_a_way() =>
        Fails(Good.Steps.Insert(5, SampleSheet.Step("again", StepKind.Open) with { Point = new("plug") }), "steps[5].point", "opened twice");

    [Fact]
    public void A_lock_comes_after_the_opening() => Fails(Good.Steps.Swapped("plug", "pluglock"), "steps[4].point", "Put its open step first");

    // EN 50110-1 6.2, as reported: secured before absence is verified.
    [Fact]
    public void A_lock_comes_before_the_dead_test_that_relies_on_it()
    {
        var pluglock = Good.Steps.First(step => step.Id.Value == "pluglock");
        var late = Good.Steps.Remove(pluglock).Insert(Good.Steps.Length - 2, pluglock);
        Assert.Contains(
            SheetRules.Faults(Good with { Steps = late }),
            fault => fault.Message.Contains("Put the lock step before the test", StringComparison.Ordinal));
    }

    [Fact]
    public void A_lock_needs_an_opening() =>
        Fails(Good.Steps.Insert(0, SampleSheet.Step("stray", StepKind.Lock) with { Point = new("loop") }), "steps[0].point", "Add its open step before the lock");

    [Fact]
    public void A_lockable_point_is_locked() => Fails(Good.Steps.Without("pluglock"), "steps[4]", "Add a lock step, or write lockable: false");

    [Fact]
    public void A_point_that_takes_no_lock_is_not_locked()
    {
        var sheet = Good with { Points = Good.Points.SetItem(1, Good.Points[1] with { Lockable = false }) };
        Assert.Contains(SheetRules.Faults(sheet), fault => fault.Path == "steps[5].point" && fault.Message.Contains("not marked as lockable", StringComparison.Ordinal));
    }

    // I22: at run time a place without points waits for all of them; a test before the last opening would end the job in a question without an answer.
    [Fact]
    public void A_place_that_names_no_points_is_tested_after_every_opening()
    {
        var other = new IsolationPoint(new("other"), "other", PointKind.Loop, [new("control")], false);
        var opening = SampleSheet.Step("openother", StepKind.Open) with { Point = other.Id };
        var sheet = Good with { Points = Good.Points.Add(other) };
        var early = sheet with { Steps = sheet.Steps.Insert(3, opening) };
        Assert.DoesNotContain(SheetRules.Faults(early), fault => fault.Path.StartsWith("steps", StringComparison.Ordinal));
        var late = sheet with { Steps = sheet.Steps.Insert(sheet.Steps.Length - 1, opening) };
        Assert.Contains(SheetRules.Faults(late), fault => fault.Path == "steps[8]" && fault.Message.Contains("proves the opening of all", StringComparison.Ordinal));
    }

    // I15: a plug that is open when its lock does not go on is left for the other way with its live side bare.
    [Fact]
    public void A_plug_that_can_be_left_open_is_covered_in_the_other_way_too()
    {
        var left = Good with { Alternatives = [Good.Alternatives[0] with { For = [new("pluglock")] }] };
        var fault = Assert.Single(SheetRules.Faults(left));
        Assert.Equal("alternatives[0].steps", fault.Path);
        Assert.Contains("Plug 'plug' can be open already", fault.Message, StringComparison.Ordinal);
        var covered = left.Alternatives[0].Steps.Insert(4, SampleSheet.Step("loopcover", StepKind.Cover));
        Assert.Empty(SheetRules.Faults(left with { Alternatives = [left.Alternatives[0] with { Steps = covered }] }));
    }

    [Fact]
    public void A_plug_that_was_left_open_on_the_way_before_is_not_forgotten_on_the_next()
    {
        var first = Good.Alternatives[0] with { For = [new("pluglock")] };
        var second = Good.Alternatives[0] with
        {
            Id = new("again"),
            For = [new("loop")],
            Steps = [.. first.Steps.Select(step => step with { Id = new($"again{step.Id}") })],
        };
        Assert.Equal(
            ["alternatives[0].steps", "alternatives[1].steps"],
            SheetRules.Faults(Good with { Alternatives = [first, second] }).Select(fault => fault.Path));
    }

    [Fact]
    public void Every_circuit_is_opened_in_every_way()
    {
        var onlyLink = Good.Points.SetItem(0, Good.Points[0] with { Circuits = [new("link")] });
        var faults = SheetRules.Faults(Good with { Points = onlyLink });
        Assert.Contains(faults, fault => fault.Path == "steps" && fault.Message.Contains("Nothing that feeds circuit 'control'", StringComparison.Ordinal));
        Assert.Contains(faults, fault => fault.Path == "alternatives[0].steps" && fault.Message.Contains("'control'", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_wait_is_waited_for_in_every_way()
    {
        Fails(Good.Steps.Without("controlwait"), "steps", "Add a wait step for it");
        Assert.Contains(
            SheetRules.Faults(Good with { Alternatives = [Good.Alternatives[0] with { Steps = Good.Alternatives[0].Steps.Without("looplinkwait") }] }),
            fault => fault.Path == "alternatives[0].steps" && fault.Message.Contains("'link'", StringComparison.Ordinal));
    }

    [Fact]
    public void A_wait_that_could_never_start_where_it_stands_is_a_fault()
    {
        // The plug feeds everything when its circuits are left out, the control units too, whose wait stands before it.
        var sheet = Good with { Points = Good.Points.SetItem(1, Good.Points[1] with { Circuits = [] }) };
        Assert.Contains(SheetRules.Faults(sheet), fault => fault.Path == "steps[3].wait" && fault.Message.Contains("correct the circuits", StringComparison.Ordinal));
    }

    [Fact]
    public void Dead_is_tested_after_the_waits_of_what_is_tested() => Fails(Good.Steps.Swapped("linkwait", "test"), "steps[7]", "Put the wait step before the test");

    [Fact]
    public void A_test_place_proves_only_points_that_are_open()
    {
        var sheet = Good with { TestPlaces = [Good.TestPlaces[0] with { Points = [new("plug")] }] };
        Assert.Contains(
            SheetRules.Faults(sheet),
            fault => fault.Path == "alternatives[0].steps[5]" && fault.Message.Contains("give the way a test place of its own", StringComparison.Ordinal));
    }

    [Fact]
    public void A_dead_test_is_marked_as_exposing() =>
        Fails(Good.Steps.SetItem(8, Good.Steps[8] with { Exposes = false }), "steps[8]", "Write exposes: true");

    [Fact]
    public void Every_way_tests() => Fails(Good.Steps.Without("test"), "steps", "Add the dead test");

    [Fact]
    public void Every_way_tests_every_circuit_that_can_be_tested()
    {
        var other = Good.TestPlaces[0] with { Id = new("other"), Circuits = [new("control")] };
        var steps = Good.Steps.Insert(8, SampleSheet.Step("other", StepKind.Test) with { TestPlace = new("other"), Exposes = true });
        Assert.Contains(
            SheetRules.Faults(Good with { TestPlaces = Good.TestPlaces.Add(other), Steps = steps }),
            fault => fault.Path == "alternatives[0].steps" && fault.Message.Contains("Circuit 'control' is not tested", StringComparison.Ordinal));
    }

    [Fact]
    public void A_way_ends_with_one_clear_step()
    {
        Fails(Good.Steps.Without("clear"), "steps", "Have exactly one, as the last step");
        Fails(Good.Steps.Swapped("clear", "test"), "steps", "not at its end");
        Fails(Good.Steps.Add(SampleSheet.Step("clearagain", StepKind.Clear)), "steps", "has 2 clear steps");
    }

    [Fact]
    public void The_live_side_of_an_open_plug_is_covered()
    {
        Fails(Good.Steps.Without("cover"), "steps[4]", "Add a cover step after it and before clear");
        Fails(Good.Steps.Swapped("cover", "chock"), "steps[4]", "Add a cover step after it and before clear");
    }

    private static void Fails(System.Collections.Immutable.ImmutableArray<Step> steps, string path, string mend) =>
        Assert.Contains(
            SheetRules.Faults(Good with { Steps = steps }), fault => fault.Path == path && fault.Message.Contains(mend, StringComparison.Ordinal));
}
