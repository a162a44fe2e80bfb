using Companion.Checker.Tests.Support;

namespace Companion.Checker.Tests;

/// <summary>Locks and ways back that never were as they are told.</summary>
public sealed class ForgedLockTests
{
    [Fact]
    public async Task A_lock_that_another_person_removed_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.ManyPeople);
        forged.Find("point.unlocked", "\"holder\":\"12\"").Data["remover"] = "13";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "13 removed the lock of 12", "locks");
    }

    [Fact]
    public async Task A_point_that_is_closed_out_of_the_reverse_order_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.ManyPeople);
        forged.Find("point.closed").Data["point"] = "lowvolt";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "lowvolt is closed before rearplug", "I6", "locks");
    }

    // I15
    [Fact]
    public async Task A_person_who_works_without_a_lock_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.ManyPeople);
        forged.Remove(forged.Lines.Where(line => line.Type == "point.locked" && line.Data["holder"]!.GetValue<string>() == "12").ToList());

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "clear to work, but not open and locked: lowvolt, frontplug, rearplug", "I15", "I6", "locks");
    }
}
