using System.Collections.Immutable;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Telling;

/// <summary>When the watch room itself fails, somebody is told without its store (I16).</summary>
public sealed class OwnTroubleTests
{
    private readonly SettableTime time = new();
    private string? cause;
    private WatchView view = new(1, [], [], []);

    [Fact]
    public async Task A_store_that_fails_is_told_by_mail_webhook_and_siren_with_who_is_out_and_only_once()
    {
        using var disk = new FailingDisk();
        await using var mail = new MailReceiver();
        await using var hook = await WebhookReceiver.StartAsync();
        await using var rig = await WatchroomRig.StartAsync(disk, (RingRound.MailFile, mail.Config), (RingRound.SecretFile, WebhookReceiver.Secret));
        var (siren, heard) = await Siren.MakeAsync(rig);
        await File.WriteAllTextAsync(Path.Combine(rig.Store, RingRound.TargetsFile), $$"""
            [{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0},
             {"name":"pager","channel":"webhook","address":"{{hook.Address}}","aftersec":0},
             {"name":"horn","channel":"siren","address":"{{siren}}","aftersec":0}]
            """);
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Beat());

        disk.Break();
        using var refused = await tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat() with { CheckIn = new CheckInStatement(2, 0, 600, 60, "working") }));
        Assert.Equal(System.Net.HttpStatusCode.ServiceUnavailable, refused.StatusCode);
        await WatchroomRig.UntilAsync(() => rig.Services.Teller.Own is [var own] && rig.Services.Teller.States(own.Id).Count(state => state.Step == TellingStep.Sent) == 3, "all are told");

        var text = Assert.Single(mail.Messages).TextBody!;
        Assert.Equal("The watch room itself fails", mail.Messages.First().Subject);
        Assert.Contains("Its store fails: ", text, StringComparison.Ordinal);
        Assert.DoesNotContain("another tablet", text, StringComparison.Ordinal);
        Assert.Contains("- Maren Oake, Mill Lane, marker 40/2; next check-in due at ", text, StringComparison.Ordinal);
        Assert.Matches(@"tablet last heard at [\d:]+ UTC; at [\d:]+ UTC it was at geo:52\.20510,-0\.13640;u=12", text);
        Assert.Contains("- Maren Oake", await File.ReadAllTextAsync(heard), StringComparison.Ordinal);
        Assert.Contains("\"kind\":\"watchroom\"", Assert.Single(hook.Received).Body, StringComparison.Ordinal);
        Assert.True(hook.Received.First().Genuine);

        // It goes on, and nobody is told twice; a call that comes now is told as ever.
        using var help = await tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Calling(CallKind.Help)));
        await WatchroomRig.UntilAsync(() => mail.Messages.Count == 2 && hook.Received.Count == 2, "the call is told");
        Assert.Contains(mail.Messages, message => message.Subject == "Call for help: Maren Oake");
    }

    // The loop waits for the disk for ever: nothing fails, and nobody watches.
    [Fact]
    public async Task A_watch_room_that_stands_still_before_a_hung_disk_tells_it_after_ten_seconds()
    {
        using var disk = new FailingDisk();
        await using var mail = new MailReceiver();
        await using var rig = await WatchroomRig.StartAsync(
            disk, (RingRound.MailFile, mail.Config), (RingRound.TargetsFile, """[{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0}]"""));
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Beat());

        disk.Hang();
        try
        {
            await WatchroomRig.UntilAsync(() => !mail.Messages.IsEmpty, "it is told");
        }
        finally
        {
            disk.GoOn();
        }

        var text = Assert.Single(mail.Messages).TextBody!;
        Assert.Contains("Deadlines are not being looked at", text, StringComparison.Ordinal);
        Assert.Contains("- Maren Oake", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_trouble_keeps_its_id_while_it_lasts_and_gets_another_only_when_it_begins_anew()
    {
        var trouble = Trouble(TimeSpan.Zero);
        Assert.Empty(trouble.Look());

        cause = "The disk is full.";
        var first = Assert.Single(trouble.Look());
        time.Seconds = 500;
        cause = "The disk is full and slow.";
        var later = Assert.Single(trouble.Look());
        Assert.Equal(first.Alert.Id, later.Alert.Id);
        Assert.Equal(first.Alert.Raised, later.Alert.Raised);
        Assert.StartsWith("The disk is full and slow.", later.Alert.Detail, StringComparison.Ordinal);

        // Gone for less than a minute it is the same trouble, of which nobody is told meanwhile.
        (cause, time.Seconds) = (null, 559);
        Assert.False(Assert.Single(trouble.Look()).Lasts);
        (cause, time.Seconds) = ("The disk is full.", 559.5);
        Assert.Equal(first.Alert.Id, Assert.Single(trouble.Look()).Alert.Id);

        (cause, time.Seconds) = (null, 620);
        Assert.Empty(trouble.Look());
        cause = "The disk is full.";
        Assert.NotEqual(first.Alert.Id, Assert.Single(trouble.Look()).Alert.Id);
    }

    [Fact]
    public void A_standstill_counts_only_when_it_lasts()
    {
        var trouble = Trouble(TimeSpan.FromSeconds(10));
        cause = "Nobody looks.";
        Assert.Empty(trouble.Look());
        time.Seconds = 9.9;
        Assert.Empty(trouble.Look());
        cause = null;
        Assert.Empty(trouble.Look());
        (cause, time.Seconds) = ("Nobody looks.", 11);
        Assert.Empty(trouble.Look());
        time.Seconds = 21;
        Assert.Single(trouble.Look());
    }

    [Fact]
    public void Nobody_is_sent_to_ring_a_technician_who_gave_the_quiet_word_nor_one_who_rehearses()
    {
        view = new WatchView(
            1,
            [Out("van-1", "job-1", "Maren Oake"), Out("van-2", "job-2", "Ilse\nMarr"), Out("van-3", "job-3", "Tove Lind", isRehearsal: true)],
            [new Alert("call", AlertKind.Quiet, "van-1", "job-1", "Maren Oake", null, SettableTime.Zero, "", new Taken("Runa Holt", SettableTime.Zero, ""))],
            []);
        cause = "The disk is full.";

        var text = TellingWords.Body(Assert.Single(Trouble(TimeSpan.Zero).Look()).Alert, null, time.GetUtcNow());

        Assert.Contains("Do not ring Maren Oake: the quiet word was given.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("- Maren Oake", text, StringComparison.Ordinal);
        Assert.Contains("- Ilse Marr, ring road;", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Tove", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_ring_round_that_the_disk_no_longer_gives_stays_as_it_was()
    {
        var folder = Directory.CreateTempSubdirectory("companion-ringround-").FullName;
        File.WriteAllText(Path.Combine(folder, "siren"), "");
        File.WriteAllText(Path.Combine(folder, RingRound.TargetsFile), $$"""[{"name":"horn","channel":"siren","address":"/bin/true","aftersec":0}]""");
        var files = new RingRoundReader(folder);
        Assert.Empty(files.Read().Faults);
        Assert.False(files.HasChanged());

        File.WriteAllText(Path.Combine(folder, RingRound.TargetsFile), "half wr");
        Assert.True(files.HasChanged());
        var broken = files.Read();
        Assert.Equal("horn", Assert.Single(broken.Targets).Name);
        Assert.Contains("What it held before is used.", Assert.Single(broken.Faults), StringComparison.Ordinal);

        Directory.Delete(folder, recursive: true);
        Assert.Equal("horn", Assert.Single(files.Read().Targets).Name);

        // Taken away by hand, it is gone.
        Directory.CreateDirectory(folder);
        Assert.Empty(files.Read().Targets);
        Directory.Delete(folder);
    }

    // Went wrong: what was written again within one tick of the file system's clock was not read.
    [Fact]
    public void A_file_that_is_written_twice_at_one_moment_is_read_again()
    {
        var folder = Directory.CreateTempSubdirectory("companion-ringround-").FullName;
        var path = Path.Combine(folder, RingRound.TargetsFile);
        File.WriteAllText(path, "[]");
        var files = new RingRoundReader(folder);
        files.Read();
        var moment = File.GetLastWriteTimeUtc(path);

        File.WriteAllText(path, """[{"name":"horn","channel":"siren","address":"/bin/true","aftersec":0}]""");
        File.SetLastWriteTimeUtc(path, moment);
        Assert.True(files.HasChanged());
        Assert.Single(files.Read().Targets);
        Directory.Delete(folder, recursive: true);
    }

    private OwnTrouble Trouble(TimeSpan patience) => new([new TroubleSign("record", patience, () => cause)], () => view, time);

    private static Watch Out(string device, string job, string technician, bool isRehearsal = false) => new()
    {
        Device = device,
        Job = job,
        Last = new Beat(job, technician, "working", "ring road", null, null, ImmutableArray<RunningWait>.Empty, ImmutableArray<Call>.Empty, true, isRehearsal),
        LastBeat = SettableTime.Zero,
        SilentFrom = SettableTime.Zero,
    };
}
