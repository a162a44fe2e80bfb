using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Telling;

/// <summary>Whoever is sent to help learns where: the position that the tablet found last, and nothing that is no longer shared.</summary>
public sealed class PositionToldTests
{
    private static readonly DateTimeOffset Now = new(2026, 11, 26, 9, 15, 0, TimeSpan.Zero);
    private static readonly Alert Call = new("id", AlertKind.Help, "van-1", FakeTablet.Job, "Maren Oake", "Mill Lane, marker 40/2", Now, "", null);

    [Fact]
    public async Task Mail_webhook_and_siren_carry_coordinates_accuracy_age_and_a_link()
    {
        await using var mail = new MailReceiver();
        await using var hook = await WebhookReceiver.StartAsync();
        await using var rig = await WatchroomRig.StartAsync((RingRound.MailFile, mail.Config), (RingRound.SecretFile, WebhookReceiver.Secret));
        var (siren, heard) = await Siren.MakeAsync(rig);
        await File.WriteAllTextAsync(Path.Combine(rig.Store, RingRound.TargetsFile), $$"""
            [{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0},
             {"name":"pager","channel":"webhook","address":"{{hook.Address}}","aftersec":0},
             {"name":"horn","channel":"siren","address":"{{siren}}","aftersec":0}]
            """);
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await WatchroomRig.UntilAsync(
            () => rig.Services.Teller.States(rig.App.Keeper.View.Alerts[0].Id) is { Length: 3 } states && states.All(state => state.Step == TellingStep.Sent), "all are told");

        const string Position = @"Place: Mill Lane, marker 40/2\r?\nPosition: 52\.20510, -0\.13640, within 12 m, found .+ before this was sent\.\r?\nMap: geo:52\.20510,-0\.13640;u=12\r?\nJob: ";
        Assert.Matches(Position, Assert.Single(mail.Messages).TextBody!);
        Assert.Matches(Position, await File.ReadAllTextAsync(heard));
        var told = Assert.Single(hook.Received);
        Assert.True(told.Genuine);
        using var body = JsonDocument.Parse(told.Body);
        var position = body.RootElement.GetProperty("position");
        Assert.Equal(("52.20510", "-0.13640"), (position.GetProperty("latitude").GetString(), position.GetProperty("longitude").GetString()));
        Assert.Equal("geo:52.20510,-0.13640;u=12", position.GetProperty("geo").GetString());
        Assert.Equal(12, position.GetProperty("accuracymetres").GetInt32());

        // Four seconds old when it was sent.
        Assert.True(position.GetProperty("ageseconds").GetInt64() >= 4);
        Assert.False(position.GetProperty("old").GetBoolean());
        Assert.Matches(Position, body.RootElement.GetProperty("text").GetString()!);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_position_is_told_no_more_when_it_is_no_longer_shared_or_the_watch_is_over(bool ended)
    {
        await using var hook = await WebhookReceiver.StartAsync();
        hook.Failing = int.MaxValue;
        await using var rig = await WatchroomRig.StartAsync(
            (RingRound.SecretFile, WebhookReceiver.Secret), (RingRound.TargetsFile, $$"""[{"name":"pager","channel":"webhook","address":"{{hook.Address}}","aftersec":0}]"""));
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await WatchroomRig.UntilAsync(() => !hook.Received.IsEmpty, "it is told with the position");
        Assert.Contains("52.20510", hook.Received.First().Body, StringComparison.Ordinal);

        if (ended)
        {
            Assert.True(await rig.App.Keeper.EndWatchAsync(tablet.Device, FakeTablet.Job, "Runa Holt", "she is back"));
        }
        else
        {
            await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help) with { Where = null });
        }

        var before = hook.Received.Count;
        await WatchroomRig.UntilAsync(() => hook.Received.Count >= before + 2, "it is told again");

        // One attempt may have been on its way.
        Assert.All(hook.Received.Skip(before + 1), told => Assert.DoesNotContain("52.20510", told.Body, StringComparison.Ordinal));
        Assert.All(hook.Received.Skip(before + 1), told => Assert.Contains("\"position\":null", told.Body, StringComparison.Ordinal));

        // Nor does the record of who was told hold it, nor any alert.
        Assert.All(rig.App.Journal.Read("telling").Concat(rig.App.Journal.Read("watch")), entry =>
            Assert.DoesNotContain("52.20510", string.Join(' ', entry.Sealed.Values.Select(text => text.Text).Append(entry.Data)), StringComparison.Ordinal));
    }

    [Fact]
    public void A_position_that_was_found_long_ago_is_told_as_old()
    {
        var fresh = Text(new Whereabouts("52.20510", "-0.13640", 12, 0), Now.AddMinutes(-10));
        var old = Text(new Whereabouts("52.20510", "-0.13640", 12, 1000), Now.AddMinutes(-10));

        Assert.Contains("\nPosition: 52.20510, -0.13640, within 12 m, found 10 min 0 s before this was sent.", fresh, StringComparison.Ordinal);
        Assert.Contains("\nOld position: 52.20510, -0.13640, within 12 m, found 10 min 1 s before this was sent. Whoever was there may have left.", old, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("javascript:alert(1)", "0")]
    [InlineData("52.2\nTake it back", "0")]
    [InlineData("91", "0")]
    [InlineData("", "")]
    public void What_is_no_position_is_not_told_as_one(string latitude, string longitude)
    {
        var text = Text(new Whereabouts(latitude, longitude, 12, 0), Now);

        Assert.DoesNotContain("osition:", text, StringComparison.Ordinal);
        Assert.Contains("Place: Mill Lane, marker 40/2", text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_position_of_another_job_or_of_a_rehearsal_is_not_told()
    {
        static LastPosition? Found(Alert alert) => LastPosition.Of(LastPosition.WatchOf(View(new Whereabouts("52.20510", "-0.13640", 12, 0), Now), alert));

        Assert.NotNull(Found(Call));
        Assert.Null(Found(Call with { Job = "job-8" }));
        Assert.Null(Found(Call with { Device = "van-2" }));
        Assert.Null(Found(Call with { Rehearsal = true }));
    }

    private static string Text(Whereabouts where, DateTimeOffset heard) =>
        TellingWords.Body(Call, LastPosition.Of(LastPosition.WatchOf(View(where, heard), Call)), Now).ReplaceLineEndings("\n");

    private static WatchView View(Whereabouts where, DateTimeOffset heard) => new(
        1, [new Watch { Device = "van-1", Job = FakeTablet.Job, Last = FakeTablet.Beat() with { Where = where }, LastBeat = heard, SilentFrom = heard.AddSeconds(60) }], [], []);
}
