using Companion.Checker.Tests.Support;
using Companion.Domain.Asking;

namespace Companion.Checker.Tests;

/// <summary>Jobs that never were as they are told, in exports whose chain and signatures are right.</summary>
public sealed class ForgedJobTests
{
    [Fact]
    public async Task An_isolation_after_smoke_was_seen_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Find("scene.answered", "fire").Data["answer"] = "yes";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "sheet.pinned after yes to 'fire'", "arrival");
    }

    [Fact]
    public async Task An_arrival_that_was_read_back_before_it_was_settled_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.MoveBefore(forged.Find("step.confirmed", "scenereadback"), forged.Find("scene.answered", "chargingcable"));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "read back before 'chargingcable' was settled", "arrival");
    }

    // I3
    [Fact]
    public async Task A_dead_test_during_the_wait_that_is_claimed_afterwards_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        var over = forged.Find("wait.completed", "frontwait");
        var claimed = forged.Before(forged.Find("dead.proved", "frontlink"));
        forged.Shift(over, -1, forged.Before(claimed));
        forged.MoveBefore(over, claimed);

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "the dead test at frontlink begins too early: the wait frontwait is not over", "I3");
    }

    // I3
    [Fact]
    public async Task Readings_before_the_first_proving_of_the_tester_are_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.MoveBefore(forged.Find("tester.proved", "before", -1), forged.Find("tester.proved", "after", -1));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "a reading at rearlink before the tester was proved there on dc does not count", "I3");
    }

    // I3
    [Fact]
    public async Task A_claim_after_the_window_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Shift(forged.Before(forged.Find("dead.proved", "rearlink")), 301);

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "more than 300 s after the tester was first proved", "I3");
    }

    // I3
    [Fact]
    public async Task Two_testers_in_one_dead_test_are_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Find("reading.taken", "positive").Data["tester"] = "tester-two";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "a reading with tester-two; tester was proved for this dead test", "I3");
    }

    // I3
    [Fact]
    public async Task Another_tester_proved_afterwards_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Find("tester.proved", "after").Data["tester"] = "tester-two";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "tester-two is proved again; the dead test at frontlink began with tester", "I3");
    }

    // I3
    [Fact]
    public async Task A_tester_proved_on_the_other_kind_of_voltage_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Find("tester.proved", "before").Data["kind"] = "ac";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "a reading at frontlink before the tester was proved there on dc does not count", "I3");
    }

    // I3
    [Fact]
    public async Task A_whole_dead_test_in_the_other_kind_of_voltage_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        foreach (var line in forged.Lines.Where(line => line.Type is "tester.proved" or "reading.taken"))
        {
            line.Data["kind"] = "ac";
        }

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "rails is tested in dc, not in ac", "I3");
    }

    // I1, I3
    [Theory]
    [InlineData("readings", "it names other readings than those of its test")]
    [InlineData("waits", "the claim does not name its waits")]
    public async Task A_claim_that_does_not_name_what_it_rests_on_is_found(string member, string fault)
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Find("dead.proved", "frontlink").Data[member]!.AsArray().RemoveAt(0);

        await Checked.AssertOnlyTheRulesObjectAsync(forged, fault, "I1", "I3");
    }

    // I3
    [Theory]
    [InlineData("reading.taken", "negative", "these pairs were not tested: negative")]
    [InlineData("tester.proved", "after", "the tester was not proved again afterwards on dc")]
    public async Task A_dead_test_that_is_not_whole_is_found(string type, string words, string fault)
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Remove(forged.Find(type, words));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, fault, "I3");
    }

    // I3
    [Fact]
    public async Task Readings_taken_while_waiting_are_not_those_of_a_dead_test()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Find("reading.taken", "rails").Data["purpose"] = "watching";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "these pairs were not tested: rails", "I3");
    }

    // I3
    [Theory]
    [InlineData("20", "neither the sum nor the difference")]
    [InlineData("60.1", "rails showed 60.1 V, above the limit")]
    [InlineData("-61", "rails showed 61 V, above the limit")]
    public async Task A_reading_that_cannot_be_accepted_is_found(string volts, string fault)
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Find("reading.taken", "rails").Data["volts"] = volts;

        await Checked.AssertOnlyTheRulesObjectAsync(forged, fault, "I1", "I3", "I6");
    }

    // I3
    [Fact]
    public async Task Nothing_shown_at_all_without_a_word_about_bare_metal_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        foreach (var pair in new[] { "rails", "positive", "negative" })
        {
            forged.Find("reading.taken", pair).Data["volts"] = "0";
        }

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "every reading is zero and nobody confirmed bare metal", "I3");
    }

    // I1
    [Fact]
    public async Task A_wait_shorter_than_the_pinned_sheets_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        var started = forged.Find("wait.started", "controlwait");
        var over = forged.Find("wait.completed", "controlwait");
        started.Data["seconds"] = 10;
        forged.Remove(forged.TicksBetween(started, over));
        forged.Shift(over, -10);

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "the wait controlwait is 10 s long; the sheet asks for 20 s", "I1", "I2");
    }

    // I1
    [Fact]
    public async Task A_wait_that_starts_before_the_last_opening_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.MoveBefore(forged.Find("wait.started", "rearwait"), forged.Find("point.opened", "rearplug"));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "the wait rearwait starts before rearplug, which feeds its circuit, is open", "I1", "I3");
    }

    // I2
    [Fact]
    public async Task A_wall_clock_that_is_put_forward_shortens_no_wait()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        var over = forged.Find("wait.completed", "controlwait");
        forged.Remove(forged.TicksBetween(forged.Find("wait.started", "controlwait"), over));
        forged.Insert("clock.anchored", $$"""{"why":"step","awake":"{{over.Uptime}}"}""", over);
        forged.Shift(forged.Before(over), -10, wall: false);

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "the wait controlwait is over after 10.0 s of counted time; the sheet asks for 20.0 s", "I2");
    }

    // I2
    [Fact]
    public async Task A_gap_that_is_counted_as_wait_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Slept);
        var touched = forged.Find("step.confirmed", "nothingtouched");
        var over = forged.Find("wait.completed", "controlwait");
        forged.Remove(forged.TicksBetween(touched, over));
        forged.Shift(over, -10);

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "the wait controlwait is over after 10.0 s of counted time", "I2");
    }

    // I2
    [Fact]
    public async Task A_sleep_that_is_told_as_an_ordinary_tick_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Slept);
        forged.Find("clock.anchored", "resume").Data["why"] = "tick";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "106.0 s without an entry are not marked as a gap", "I2");
    }

    // I2
    [Fact]
    public async Task A_sleep_too_short_to_be_missed_is_found_by_the_two_clocks()
    {
        var forged = Forgery.Of(await HonestJobs.PlayAsync(async job =>
        {
            await job.UntilAsync(NeedKind.WaitOver);
            await job.SleepAsync(8);
        }));
        forged.Find("clock.anchored", "resume").Data["why"] = "tick";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "the tablet slept for 8.0 s, which is not marked as a gap", "I2");
    }

    // I2
    [Theory]
    [InlineData("code.accepted", "nothing touched is confirmed without a code")]
    [InlineData("step.confirmed", "although nobody confirmed by code, after the gap")]
    public async Task A_gap_that_nobody_answered_for_is_found(string missing, string fault)
    {
        var forged = Forgery.Of(await HonestJobs.Slept);
        var touched = forged.Find("step.confirmed", "nothingtouched");
        forged.Remove(missing == "step.confirmed" ? touched : forged.Before(touched));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, fault, "I2");
    }

    // I6
    [Fact]
    public async Task Steps_that_were_swapped_are_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.MoveBefore(forged.Find("point.locked", "frontplug"), forged.Find("point.locked", "rearplug"));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "step 'openrear' (open) before step 'lockfront' is done", "I6");
    }

    // I6
    [Theory]
    [InlineData("point.locked", "frontplug", "step 'openrear' (open) before step 'lockfront' is done")]
    [InlineData("step.confirmed", "coverliveside", "step 'clear' (clear) before step 'cover' is done")]
    [InlineData("wait.completed", "controlwait", "step 'openfront' (open) before step 'waitcontrol' is done")]
    public async Task A_step_that_was_skipped_is_found(string type, string words, string fault)
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Remove(forged.Find(type, words));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, fault, "I1", "I3", "I6", "I15");
    }

    // I15
    [Fact]
    public async Task A_place_that_is_not_proved_at_clear_to_work_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Insert("proof.voided", """{"testplace":"frontlink","reason":"forged"}""", forged.Find("work.cleared"));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "clear to work, but not proved dead: frontlink", "I15");
    }

    // I15
    [Fact]
    public async Task A_place_that_was_never_tested_at_clear_to_work_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Remove(forged.Lines.Where(line => line.Data["testplace"]?.GetValue<string>() == "rearlink").ToList());

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "clear to work, but not proved dead: rearlink", "I6", "I15");
    }

    // I5
    [Theory]
    [InlineData("vehiclewoke", "not open and locked: lowvolt, frontplug, rearplug")]
    [InlineData("chargerconnected", "not proved dead: rearlink (lost at entry")]
    public async Task A_proof_that_stands_after_a_disturbance_is_found(string what, string fault)
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Insert("disturbance.reported", $$"""{"what":"{{what}}","circuits":[],"points":[]}""", forged.Find("work.cleared"));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, fault, "I15");
    }

    // I6
    [Fact]
    public async Task A_way_that_the_sheet_does_not_offer_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Insert("way.taken", """{"way":"loop","instead":"openrear","reason":"stuck"}""", forged.Find("point.opened", "rearplug"));

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "the sheet offers no way 'loop' for step 'openrear'", "I6");
    }

    // I15
    [Fact]
    public async Task Clear_to_work_for_longer_than_the_sheet_allows_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Find("work.cleared").Data["retestdue"] = "999000000000000";

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "clear to work is given for longer", "I15");
    }

    // I15
    [Fact]
    public async Task Clear_to_work_that_outlasts_the_time_of_the_next_test_is_found()
    {
        var forged = Forgery.Of(await HonestJobs.Plain);
        forged.Shift(forged.Before(forged.Before(forged.Find("job.handedover"))), 31 * 60);

        await Checked.AssertOnlyTheRulesObjectAsync(forged, "clear to work still stands", "I15");
    }
}
