using System.Net;
using System.Text;
using Companion.Contracts.Uplink;
using Companion.Journal.Proof;
using Companion.Watchroom.Retention;
using Companion.Watchroom.Tests.Proving;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Retention;

/// <summary>How long the watch room keeps personal texts, and what an administrator does with them.</summary>
public sealed class RoomRetentionTests
{
    private static readonly (string Name, string Text) Days = (RoomRetention.PolicyName, "names: 365\nheard: 30\nplaces: 90\nalerts: 365\nrecordings: 30\n");
    private static readonly (string Name, string Text) AtOnce = (RoomRetention.PolicyName, "names: 0\nheard: 0\nplaces: 0\nalerts: 0\nrecordings: 0\n");

    [Fact]
    public async Task What_is_due_is_erased_told_and_does_not_come_back_when_sent_again()
    {
        await using var rig = await WatchroomRig.StartAsync(Days);
        using var tablet = await rig.PairAsync();
        var record = await SendAsync(tablet, "job-1", daysAgo: 40);
        await new RoomRetention(rig.Services).RunAsync();
        await SendLinesAsync(tablet, record.JobLines);

        var entries = rig.Services.Receiver.Read(tablet.Device, "job-1").Select(line => ExportLine.Parse(line)).ToList();
        Assert.Equal(record.JobLines.Length, entries.Count);
        Assert.Equal(["Ines Marr", "Quarry road"], entries[0].Sealed.Values.Select(text => text.Text));
        Assert.Empty(entries[1].Sealed);
        Assert.All(Directory.EnumerateFiles(Path.Combine(rig.Store, "received"), "*", SearchOption.AllDirectories).Where(file => !file.EndsWith(".lock", StringComparison.Ordinal)), file =>
            Assert.True(File.ReadAllBytes(file).AsSpan().IndexOf("gloves on"u8) < 0, file));
        Assert.Contains(rig.Audit(), line => line == $$$"""texts.erased {"chain":"job-1","device":"{{{tablet.Device}}}","texts":{"heard":1},"why":"due"}""");
    }

    [Fact]
    public async Task Sound_that_was_brought_here_goes_with_its_days_although_there_is_no_policy()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, "job-1", daysAgo: 40);
        var sound = Directory.CreateDirectory(Path.Combine(rig.Store, "sound", "job-1")).FullName;
        await File.WriteAllTextAsync(Path.Combine(sound, "1_boot.wav"), "not announced, so not to be kept");
        await new RoomRetention(rig.Services).RunAsync();
        Assert.False(Directory.Exists(sound));
        Assert.Contains(rig.Audit(), line => line == $$$"""texts.erased {"chain":"job-1","device":"{{{tablet.Device}}}","texts":{"recordings":1},"why":"due"}""");
    }

    [Fact]
    public async Task Without_a_policy_and_with_a_broken_one_nothing_is_erased()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, "job-1", daysAgo: 4000);
        var retention = new RoomRetention(rig.Services);
        await retention.RunAsync();
        Assert.Null(retention.Fault);
        await File.WriteAllTextAsync(Path.Combine(rig.Store, RoomRetention.PolicyName), "names: soon\n");
        await retention.RunAsync();
        Assert.Contains("Nothing is erased", retention.Fault);
        Assert.NotEmpty(ExportLine.Parse(rig.Services.Receiver.Read(tablet.Device, "job-1").First()).Sealed);
    }

    [Fact]
    public async Task What_is_watched_or_has_an_open_alert_is_kept_until_somebody_has_taken_it()
    {
        await using var rig = await WatchroomRig.StartAsync(AtOnce);
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, FakeTablet.Job, daysAgo: 1);
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        var retention = new RoomRetention(rig.Services);
        await retention.RunAsync();
        Assert.Equal(2, Texts(rig, tablet));
        Assert.Contains(rig.App.Journal.Read("watch"), entry => entry.Sealed.Values.Any(text => text.Text == "Maren Oake"));

        Assert.True(await rig.App.Keeper.TakeAsync(rig.App.Keeper.View.Alerts.Single().Id, "Runa Holt", "I call."));
        Assert.True(await rig.App.Keeper.EndWatchAsync(tablet.Device, FakeTablet.Job, "Runa Holt", "back at base"));
        await retention.RunAsync();
        Assert.Equal(0, Texts(rig, tablet));
        Assert.DoesNotContain(rig.App.Journal.Read("watch"), entry => entry.Sealed.Count > 0);
        await rig.RestartAsync();
        Assert.Empty(rig.App.Keeper.View.Watches);
    }

    [Fact]
    public async Task An_administrator_erases_a_job_on_request_and_is_written_down()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, "job-1", daysAgo: 1);
        using var administrator = await Visitor.SignedInAsync(rig, "Petra Ash");
        using var done = await administrator.PostAsync("/personal", "/personal/erase", ("device", tablet.Device), ("job", "job-1"), ("reason", "asked by letter"));
        Assert.Contains("Erased: the personal texts of job-1", await done.Content.ReadAsStringAsync());
        Assert.Empty(ExportLine.Parse(rig.Services.Receiver.Read(tablet.Device, "job-1").First()).Sealed);
        var told = Assert.Single(rig.App.Journal.Read("audit"), entry => entry.Type == "texts.erased");
        Assert.Equal(("Petra Ash", "asked by letter"), (told.Sealed["person"].Text, told.Sealed["reason"].Text));
        using var nothing = await administrator.PostAsync("/personal", "/personal/erase", ("device", tablet.Device), ("job", "job-9"), ("reason", "why not"));
        Assert.Contains("Nothing of this job is held.", await nothing.Content.ReadAsStringAsync());
    }

    // The board kept both until the next restart, and a comment was kept for ever.
    [Fact]
    public async Task Comments_and_the_taken_alerts_on_the_board_are_erased_with_their_job()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, FakeTablet.Job, daysAgo: 1);
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        Assert.True(await rig.App.Keeper.TakeAsync(rig.App.Keeper.View.Alerts.Single().Id, "Runa Holt", "I ring Maren Oake."));
        Assert.True(await rig.App.Keeper.EndWatchAsync(tablet.Device, FakeTablet.Job, "Runa Holt", "back at base"));
        using var administrator = await Visitor.SignedInAsync(rig, "Petra Ash");
        var comments = $"/jobs/{tablet.Device}/{FakeTablet.Job}/comments";
        (await administrator.PostAsync(comments, comments, ("sequence", "0"), ("text", "She was cold."), ("words", "own"))).Dispose();
        Assert.Contains("Maren Oake", await administrator.ReadAsync("/board"), StringComparison.Ordinal);

        using var done = await administrator.PostAsync("/personal", "/personal/erase", ("device", tablet.Device), ("job", FakeTablet.Job), ("reason", "asked by letter"));

        Assert.Contains($"Erased: the personal texts of {FakeTablet.Job}", await done.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Empty(Assert.Single(rig.App.Journal.Read("review")).Sealed);
        await WatchroomRig.UntilAsync(() => rig.App.Keeper.View.Alerts.Single() is { Technician: "", Place: null, Taken: { Person: "", Note: "" } }, "the board has forgotten");
        var board = await administrator.ReadAsync("/board");
        Assert.DoesNotContain("Maren Oake", board, StringComparison.Ordinal);
        Assert.DoesNotContain("Mill Lane", board, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_held_about_a_person_is_fetched_by_an_administrator_alone()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, "job-1", daysAgo: 1);
        using var lead = await Visitor.SignedInAsync(rig);
        Assert.Equal(HttpStatusCode.Forbidden, (await lead.GetAsync("/personal")).StatusCode);
        using var administrator = await Visitor.SignedInAsync(rig, "Petra Ash");
        using var answer = await administrator.PostAsync("/personal", "/personal/export", ("name", "ines marr"));
        var line = Assert.Single((await answer.Content.ReadAsStringAsync()).Split('\n', StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal("Ines Marr", ExportLine.Parse(Encoding.UTF8.GetBytes(line)).Sealed["name"].Text);
        Assert.Equal("ines marr", Assert.Single(rig.App.Journal.Read("audit"), entry => entry.Type == "person.exported").Sealed["subject"].Text);
        using var own = await administrator.PostAsync("/personal", "/personal/export", ("name", "Petra Ash"));
        Assert.Contains("session.begun", await own.Content.ReadAsStringAsync());
    }

    private static int Texts(WatchroomRig rig, FakeTablet tablet) =>
        rig.Services.Receiver.Read(tablet.Device, FakeTablet.Job).Count(line => ExportLine.Parse(line).Sealed.Count > 0);

    private static async Task<SignedRecord> SendAsync(FakeTablet tablet, string job, int daysAgo)
    {
        var record = (await SignedRecord.OfAsync(tablet.Tablet, at: DateTimeOffset.UtcNow.AddDays(-daysAgo), jobs: [job]))[0];
        await SendLinesAsync(tablet, record.JobLines);
        return record;
    }

    private static async Task SendLinesAsync(FakeTablet tablet, string[] lines)
    {
        using var answer = await tablet.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(lines));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }
}
