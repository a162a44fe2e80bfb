using System.Net;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Telling;

/// <summary>How long the ring-round waits, and what it makes of receivers that behave badly.</summary>
public sealed class TellerTests
{
    [Fact]
    public async Task A_siren_that_does_not_end_is_killed_after_half_a_minute_and_sounded_again()
    {
        await using var bench = new TellerBench();
        var pids = Path.Combine(bench.Folder, "pids");
        bench.Start($$"""[{"name":"horn","channel":"siren","address":"{{bench.Script($"echo $$ >> '{pids}'\nexec sleep 1000")}}","aftersec":0}]""");

        await WatchroomRig.UntilAsync(() => bench.States is [{ Attempts: >= 1, Step: TellingStep.Failed, Reason: "No answer within 30 seconds." }], "it failed");
        Assert.True(bench.Seconds >= 30, $"An attempt of 30 s had {bench.Seconds} s.");
        await WatchroomRig.UntilAsync(() => !Directory.Exists($"/proc/{File.ReadLines(pids).First()}"), "the siren is killed");
        await WatchroomRig.UntilAsync(() => File.ReadLines(pids).Count() >= 2, "it is sounded again");
        Assert.Contains(bench.Journal.Read("telling"), entry => entry.Type == "told.failed");
    }

    // The end of the killed command is awaited: else the next could sound beside it.
    [Fact]
    public async Task A_siren_that_is_given_up_is_gone_when_its_attempt_is_over()
    {
        await using var bench = new TellerBench();
        bench.Start("[]");
        var pid = Path.Combine(bench.Folder, "pid");
        var horn = new RingTarget("horn", RingChannel.Siren, bench.Script($"echo $$ > '{pid}.part'\nmv '{pid}.part' '{pid}'\nexec sleep 1000"), 0);
        var alert = new Alert("alert-1", AlertKind.Help, "van-1", "job-1", "Maren Oake", null, DateTimeOffset.UnixEpoch, "", null);
        using var end = new CancellationTokenSource();
        var attempt = new SirenChannel().TellAsync(new(alert, horn), new RingRound([horn], null, null, null, []), end.Token);
        await WatchroomRig.UntilAsync(() => File.Exists(pid), "the siren sounds");

        await end.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => attempt);
        Assert.False(Directory.Exists($"/proc/{(await File.ReadAllTextAsync(pid)).Trim()}"), "The siren goes on.");
    }

    [Fact]
    public async Task The_second_is_told_only_after_the_seconds_of_the_ring_round()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        await using var bench = new TellerBench();
        bench.Start(Two(hook, later: 60));

        await WatchroomRig.UntilAsync(() => bench.States is [{ Step: TellingStep.Sent }, _], "the first is told");
        Assert.Equal(TellingStep.Waiting, bench.States[1].Step);
        Assert.True(bench.Seconds < 60, $"The machine is too slow for this test: {bench.Seconds} s.");
        Assert.Single(hook.Received);

        await WatchroomRig.UntilAsync(() => bench.States is [_, { Step: TellingStep.Sent }], "the second is told");
        Assert.True(bench.Seconds >= 60, $"The second was told after {bench.Seconds} s.");
        Assert.Equal(2, hook.Received.Count);
    }

    [Fact]
    public async Task The_second_is_never_told_of_an_alert_that_was_taken_before()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        await using var bench = new TellerBench();
        bench.Start(Two(hook, later: 60));
        await WatchroomRig.UntilAsync(() => bench.States is [{ Step: TellingStep.Sent }, _], "the first is told");

        bench.Take();
        await WatchroomRig.UntilAsync(() => bench.Seconds > 66, "the time of the second has passed");

        Assert.Single(hook.Received);
        Assert.Equal(TellingStep.Waiting, bench.States[1].Step);
    }

    // Where it would lead, nobody has checked: the address may not even be encrypted.
    [Fact]
    public async Task A_webhook_that_redirects_is_not_followed_and_is_told_again_where_it_was()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        await using var elsewhere = await WebhookReceiver.StartAsync();
        hook.Next.Enqueue(context =>
        {
            context.Response.Redirect(elsewhere.Address);
            return Task.CompletedTask;
        });
        await using var bench = new TellerBench();
        bench.Start(One(hook));

        await WatchroomRig.UntilAsync(() => bench.States is [{ Step: TellingStep.Sent, Attempts: 2 }], "it is told again");

        Assert.Empty(elsewhere.Received);
        Assert.Contains("The other side answered 302.", Reasons(bench));
    }

    [Fact]
    public async Task A_webhook_that_answers_500_once_is_told_again_with_the_same_id()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        hook.Next.Enqueue(context =>
        {
            context.Response.StatusCode = (int)HttpStatusCode.InternalServerError;
            return Task.CompletedTask;
        });
        await using var bench = new TellerBench();
        bench.Start(One(hook));

        await WatchroomRig.UntilAsync(() => bench.States is [{ Step: TellingStep.Sent, Attempts: 2 }], "it is told again");

        Assert.Equal(2, hook.Received.Count);
        Assert.Single(hook.Received.Select(told => told.Id).Distinct());
        Assert.Equal(["The other side answered 500."], Reasons(bench));
    }

    [Fact]
    public async Task A_webhook_that_does_not_answer_is_given_up_after_half_a_minute_and_holds_up_nobody_else()
    {
        await using var hook = await WebhookReceiver.StartAsync();
        await using var other = await WebhookReceiver.StartAsync();
        hook.Next.Enqueue(context => Task.Delay(Timeout.Infinite, context.RequestAborted).ContinueWith(_ => { }, TaskScheduler.Default));
        await using var bench = new TellerBench();
        bench.Start($$"""[{"name":"slow","channel":"webhook","address":"{{hook.Address}}","aftersec":0},{"name":"other","channel":"webhook","address":"{{other.Address}}","aftersec":0}]""");

        await WatchroomRig.UntilAsync(() => bench.States is [_, { Step: TellingStep.Sent }], "the other is told");
        Assert.Equal(TellingStep.Trying, bench.States[0].Step);
        await WatchroomRig.UntilAsync(() => bench.States is [{ Step: TellingStep.Sent, Attempts: 2 }, _], "the slow one is told again");

        Assert.True(bench.Seconds >= 30, $"It was given up after {bench.Seconds} s.");
        Assert.Equal(["No answer within 30 seconds."], Reasons(bench));
    }

    private static string One(WebhookReceiver hook) => $$"""[{"name":"pager","channel":"webhook","address":"{{hook.Address}}","aftersec":0}]""";

    private static string Two(WebhookReceiver hook, int later) =>
        $$"""[{"name":"first","channel":"webhook","address":"{{hook.Address}}","aftersec":0},{"name":"second","channel":"webhook","address":"{{hook.Address}}","aftersec":{{later}}}]""";

    private static IReadOnlyList<string> Reasons(TellerBench bench) =>
        [.. bench.Journal.Read("telling").Where(entry => entry.Type == "told.failed").Select(entry => entry.Sealed["reason"].Text)];
}
