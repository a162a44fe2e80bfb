using System.Net;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Tests.Watching.Support;

namespace Companion.Watchroom.Tests.Telling;

/// <summary>Trouble of the watch room itself: who may note it, what noting it does, and what it tells nobody.</summary>
public sealed class RoomTroubleTests
{
    private readonly SettableTime time = new();
    private RoomTrouble[] present = [];

    [Fact]
    public void A_note_lasts_as_long_as_its_trouble_and_one_that_begins_anew_is_not_noted()
    {
        var troubles = new RoomTroubles(() => present, time);
        present = [new RoomTrouble("disk", "The disk is full.", null), new RoomTrouble("mail", "The mail server is gone.", null)];
        Assert.Equal(["The disk is full."], troubles.Note(["disk", "no such"], "Runa Holt"));
        Assert.Empty(troubles.Note(["disk"], "Petra Ash"));

        // What nobody noted stands first; other words are no other trouble.
        present[0] = present[0] with { Words = "The disk is full and slow." };
        Assert.Equal([("mail", null), ("disk", "Runa Holt")], troubles.Now().Select(trouble => (trouble.Id, trouble.Noted?.Person)));

        // It comes and goes, and is the same; after a minute without it, it is another.
        (present, time.Seconds) = ([], 59);
        Assert.Empty(troubles.Now());
        present = [new RoomTrouble("disk", "The disk is full.", null)];
        Assert.NotNull(Assert.Single(troubles.Now()).Noted);
        (present, time.Seconds) = ([], 119);
        Assert.Empty(troubles.Now());
        present = [new RoomTrouble("disk", "The disk is full.", null)];
        Assert.Null(Assert.Single(troubles.Now()).Noted);
    }

    [Fact]
    public void What_is_past_is_shown_until_it_is_noted()
    {
        var troubles = new RoomTroubles(() => present, time);
        present = [new RoomTrouble("blind", "It was blind.", null) { IsPast = true }];
        Assert.Single(troubles.Now());
        Assert.Single(troubles.Note(["blind"], "Runa Holt"));
        time.Seconds = 3600;
        Assert.Empty(troubles.Now());
        Assert.Empty(troubles.Now());
    }

    [Fact]
    public async Task All_that_is_not_recorded_is_one_trouble_that_says_why_whatever_its_words()
    {
        await using var rig = await WatchroomRig.StartAsync();
        RoomTrouble Of(params string[] faults) => Assert.Single(RoomTroubles.Of(faults, rig.Services.Teller, rig.App.Keeper.View, time.GetUtcNow().AddYears(100)));

        var both = Of("Nothing is being recorded: the disk.", "Nothing is being recorded: the beats.");
        Assert.Equal("Nothing is being recorded: the disk. Nothing is being recorded: the beats.", both.Words);
        Assert.Equal(both.Id, Of("Nothing is being recorded: something else.").Id);
        Assert.NotEqual(both.Id, Of("The mail server is gone.").Id);
    }

    // Somebody may stand beside the technician: a quiet alert must not show by the trouble of telling it.
    [Fact]
    public async Task Who_cannot_be_told_is_trouble_that_outlasts_the_alert_and_is_not_shown_to_a_technician()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        hook.Failing = int.MaxValue;
        await using var rig = await WatchroomRig.StartAsync(
            (RingRound.SecretFile, WebhookReceiver.Secret), (RingRound.TargetsFile, $$"""[{"name":"pager","channel":"webhook","address":"{{hook.Address}}","aftersec":0}]"""));
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Quiet));
        await WatchroomRig.UntilAsync(() => rig.Services.Troubles.Now().Count == 1, "it is a trouble");
        Assert.True(await rig.App.Keeper.TakeAsync(rig.App.Keeper.View.Alerts[0].Id, "Runa Holt", "on it"));

        using var lead = await Visitor.SignedInAsync(rig);
        using var technician = await Visitor.SignedInAsync(rig, "Maren Oake");
        Assert.Contains("pager cannot be told by webhook: The other side answered 503.", await lead.ReadAsync("/board"), StringComparison.Ordinal);
        Assert.DoesNotContain("pager", await technician.ReadAsync("/board"), StringComparison.Ordinal);

        // The next alert reaches it: the trouble is over.
        hook.Failing = 0;
        using var other = await rig.PairAsync("van 13");
        await other.BeatAsync(FakeTablet.Calling(CallKind.Help, "job-8"));
        await WatchroomRig.UntilAsync(() => rig.Services.Troubles.Now().Count == 0, "it is no trouble any more");
    }

    [Fact]
    public async Task Only_a_team_lead_notes_trouble_and_only_by_the_form()
    {
        await using var rig = await WatchroomRig.StartAsync();
        File.Delete(Path.Combine(rig.Store, RingRound.TargetsFile));
        await WatchroomRig.UntilAsync(() => rig.Services.Troubles.Now().Count == 1, "it is a trouble");
        var field = ("trouble", rig.Services.Troubles.Now()[0].Id);
        using var technician = await Visitor.SignedInAsync(rig, "Maren Oake");
        using var lead = await Visitor.SignedInAsync(rig);

        using var forbidden = await technician.PostAsync("/", "/troubles/note", field);
        using var forged = await lead.PostWithoutTokenAsync("/troubles/note", field);
        Assert.Equal((HttpStatusCode.Forbidden, HttpStatusCode.BadRequest), (forbidden.StatusCode, forged.StatusCode));
        Assert.Null(rig.Services.Troubles.Now()[0].Noted);

        (await lead.PostAsync("/", "/troubles/note", field)).Dispose();
        Assert.Equal("Runa Holt", rig.Services.Troubles.Now()[0].Noted!.Person);
    }
}
