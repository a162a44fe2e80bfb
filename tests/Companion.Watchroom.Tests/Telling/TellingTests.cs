using Companion.Contracts.Uplink;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Tests.Support;
using MimeKit;

namespace Companion.Watchroom.Tests.Telling;

/// <summary>Alerts on their way to people, against real receivers on this machine.</summary>
public sealed class TellingTests
{
    [Fact]
    public async Task An_alert_is_told_by_mail_once_and_not_again_after_a_restart()
    {
        await using var mail = new MailReceiver();
        await using var rig = await StartAsync(mail, """[{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0}]""");
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await ToldAsync(rig, TellingStep.Sent);

        var message = Assert.Single(mail.Messages);
        Assert.Equal("Call for help: Maren Oake", message.Subject);
        Assert.Contains("Mill Lane, marker 40/2", Text(message), StringComparison.Ordinal);

        await rig.RestartAsync();
        await ToldAsync(rig, TellingStep.Sent);
        using var second = await rig.PairAsync("van 13");
        await second.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await WatchroomRig.UntilAsync(() => mail.Messages.Count >= 2, "the second alert is told");

        // The first was looked at before the second, and was left alone.
        Assert.Equal(2, mail.Messages.Select(told => told.MessageId).Distinct().Count());
        Assert.Equal(2, mail.Messages.Count);
    }

    [Fact]
    public async Task A_quiet_alert_says_in_every_channel_that_nobody_may_ring_the_technician()
    {
        await using var mail = new MailReceiver();
        await using var rig = await StartAsync(mail, """[{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0}]""");
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Quiet));
        await ToldAsync(rig, TellingStep.Sent);

        Assert.Contains("Do not ring the technician", Text(Assert.Single(mail.Messages)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_webhook_is_signed_and_repeated_with_the_same_id_until_it_is_taken()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        hook.Failing = 2;
        await using var rig = await WatchroomRig.StartAsync(
            (RingRound.SecretFile, WebhookReceiver.Secret), (RingRound.TargetsFile, $$"""[{"name":"pager","channel":"webhook","address":"{{hook.Address}}","aftersec":0}]"""));
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await ToldAsync(rig, TellingStep.Sent);

        Assert.Equal(3, hook.Received.Count);
        Assert.Single(hook.Received.Select(told => told.Id).Distinct());
        Assert.All(hook.Received, told => Assert.True(told.Genuine));
        await WatchroomRig.UntilAsync(() => (Recorded(rig, "told.failed"), Recorded(rig, "told.sent")) == (2, 1), "two failures and one success are recorded");
    }

    // Names and kinds of alerts lie beside the chain, where they can be erased.
    [Fact]
    public async Task The_record_of_tellings_holds_no_name_in_its_chain()
    {
        await using var mail = new MailReceiver();
        await using var rig = await StartAsync(mail, """[{"name":"Ilse Marr","channel":"email","address":"ilse@example.invalid","aftersec":0}]""");
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Quiet));
        await ToldAsync(rig, TellingStep.Sent);

        await WatchroomRig.UntilAsync(() => rig.App.Journal.Read("telling").Count > 0, "it is recorded");
        Assert.All(rig.App.Journal.Read("telling"), entry =>
        {
            Assert.DoesNotContain("Ilse", System.Text.Encoding.UTF8.GetString(entry.Bytes.Span), StringComparison.Ordinal);
            Assert.Equal("Ilse Marr", entry.Sealed["target"].Text);
        });
    }

    [Fact]
    public async Task Telling_stops_when_somebody_takes_the_alert()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        hook.Failing = int.MaxValue;
        await using var rig = await WatchroomRig.StartAsync(
            (RingRound.SecretFile, WebhookReceiver.Secret),
            (RingRound.TargetsFile, $$"""[{"name":"pager","channel":"webhook","address":"{{hook.Address}}","aftersec":0},{"name":"later","channel":"webhook","address":"{{hook.Address}}","aftersec":3600}]"""));
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await WatchroomRig.UntilAsync(() => !hook.Received.IsEmpty, "it was tried");

        Assert.True(await rig.App.Keeper.TakeAsync(rig.App.Keeper.View.Alerts[0].Id, "Runa Holt", "on it"));
        await ToldAsync(rig, TellingStep.Failed);

        // An attempt that had begun before may still arrive; then, for the pause after it and two looks more, no other.
        var tried = 0;
        for (var rounds = 0; tried != hook.Received.Count; rounds++)
        {
            Assert.True(rounds < 2, $"It goes on: {tried}, {hook.Received.Count}.");
            tried = hook.Received.Count;
            await Task.Delay(Teller.PauseAfter(tried) + TimeSpan.FromSeconds(2));
        }

        Assert.Single(hook.Received.Select(told => told.Id).Distinct());
    }

    [Fact]
    public async Task A_siren_gets_the_text_and_one_that_fails_is_sounded_again()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var heard = Path.Combine(rig.Store, "heard");
        var siren = Path.Combine(rig.Store, "siren");
        await File.WriteAllTextAsync(siren, $"#!/bin/sh\ncat >> '{heard}'\n[ -e '{heard}.once' ] && exit 0\ntouch '{heard}.once'\nexit 3\n");
        File.SetUnixFileMode(siren, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        await File.WriteAllTextAsync(Path.Combine(rig.Store, RingRound.TargetsFile), $$"""[{"name":"horn","channel":"siren","address":"{{siren}}","aftersec":0}]""");
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await ToldAsync(rig, TellingStep.Sent);

        Assert.Equal(2, rig.Services.Teller.States(rig.App.Keeper.View.Alerts[0].Id)[0].Attempts);
        Assert.Contains("Call for help.", await File.ReadAllTextAsync(heard), StringComparison.Ordinal);
    }

    // It failed before its attempt was noted as under way, and was then taken for being under way for ever.
    [Fact]
    public async Task A_siren_that_fails_at_once_is_tried_again_and_again()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var siren = Path.Combine(rig.Store, "siren");
        await File.WriteAllTextAsync(siren, "no program");
        await File.WriteAllTextAsync(Path.Combine(rig.Store, RingRound.TargetsFile), $$"""[{"name":"horn","channel":"siren","address":"{{siren}}","aftersec":0}]""");
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));

        await WatchroomRig.UntilAsync(() => rig.Services.Teller.States(rig.App.Keeper.View.Alerts[0].Id) is [{ Attempts: >= 3, Reason.Length: > 0 }], "it is tried again");
    }

    // I20: rehearsals never reach real alerts.
    [Fact]
    public async Task A_rehearsal_is_told_to_nobody()
    {
        await using var mail = new MailReceiver();
        await using var rig = await StartAsync(mail, """[{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0}]""");
        using var rehearsing = await rig.PairAsync();
        using var real = await rig.PairAsync("van 13");

        await rehearsing.BeatAsync(FakeTablet.Calling(CallKind.Help, "rehearsed", rehearsal: true));
        await real.BeatAsync(FakeTablet.Calling(CallKind.Help, "job-8"));
        await WatchroomRig.UntilAsync(() => !mail.Messages.IsEmpty, "the real alert is told");

        Assert.Contains("job-8", Text(Assert.Single(mail.Messages)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wrong_ring_round_is_told_in_plain_words_at_the_start_and_on_the_board()
    {
        await using var rig = await WatchroomRig.StartAsync(
            (RingRound.TargetsFile, """[{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0},{"name":"plain","channel":"webhook","address":"http://example.invalid/","aftersec":0}]"""));
        using var visitor = await Visitor.SignedInAsync(rig);

        var board = System.Net.WebUtility.HtmlDecode(await visitor.ReadAsync("/board"));
        foreach (var fault in new[] { "'desk' is not told: mail.json names no mail server", "'plain' is not told: webhook.secret holds no secret" })
        {
            Assert.Contains(rig.App.Findings, finding => finding.Contains(fault, StringComparison.Ordinal));
            Assert.Contains(fault, board, StringComparison.Ordinal);
        }

        await File.WriteAllTextAsync(Path.Combine(rig.Store, RingRound.TargetsFile), "not json");
        await WatchroomRig.UntilAsync(() => rig.Services.Faults().Any(fault => fault.StartsWith("ringround.json cannot be used", StringComparison.Ordinal)), "the file is read again");
    }

    [Fact]
    public void The_pauses_grow_to_a_minute_and_no_further() =>
        Assert.Equal([1, 2, 4, 8, 16, 32, 60, 60], Enumerable.Range(1, 8).Select(failures => (int)Teller.PauseAfter(failures).TotalSeconds));

    [Fact]
    public void A_text_from_a_tablet_cannot_begin_a_line_of_its_own()
    {
        var alert = new Companion.Watchroom.Watching.Alert(
            "id", Companion.Watchroom.Watching.AlertKind.Help, "tablet-1", "job", "Maren\r\nBcc: x", "here\nTake it back", DateTimeOffset.UnixEpoch, "detail", null);

        Assert.DoesNotContain('\n', TellingWords.Subject(alert));
        Assert.DoesNotContain("\nTake it back", TellingWords.Body(alert, null, DateTimeOffset.UnixEpoch), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData('\u2028')]
    [InlineData('\u2029')]
    [InlineData('\u202e')]
    [InlineData('\u2066')]
    [InlineData('\u0085')]
    [InlineData('\r')]
    public void A_letter_that_breaks_or_turns_a_line_does_neither(char letter) => Assert.Equal("Maren  Oake", TellingWords.OneLine($"Maren {letter}Oake"));

    private static Task<WatchroomRig> StartAsync(MailReceiver mail, string targets) =>
        WatchroomRig.StartAsync((RingRound.MailFile, mail.Config), (RingRound.TargetsFile, targets));

    private static Task ToldAsync(WatchroomRig rig, TellingStep step) => WatchroomRig.UntilAsync(
        () => rig.App.Keeper.View.Alerts.Any(alert => rig.Services.Teller.States(alert.Id).Any(state => state.Step == step)), $"a telling is {step}");

    private static int Recorded(WatchroomRig rig, string type) => rig.App.Journal.Read("telling").Count(entry => entry.Type == type);

    private static string Text(MimeMessage message) => message.TextBody!.ReplaceLineEndings(" ");
}
