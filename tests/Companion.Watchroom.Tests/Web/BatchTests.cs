using System.Net;
using System.Net.Http.Json;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Web;

/// <summary>Batches of a tablet's record, over real HTTPS into the real receiver.</summary>
public sealed class BatchTests
{
    [Fact]
    public async Task A_record_is_taken_once_and_held_byte_for_byte()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var lines = await Records.OfJobAsync(tablet.Tablet, FakeTablet.Job, 4);

        Assert.Equal(2, (await TakenAsync(tablet, lines[..2])).Sequence);
        Assert.Equal(4, (await TakenAsync(tablet, lines)).Sequence);

        var held = rig.Services.Receiver.Read(tablet.Device, FakeTablet.Job).Select(line => System.Text.Encoding.UTF8.GetString(line.Span).TrimEnd('\n'));
        Assert.Equal(lines, held);
    }

    [Fact]
    public async Task A_gap_is_answered_with_where_to_go_on()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var lines = await Records.OfJobAsync(tablet.Tablet, FakeTablet.Job, 4);
        await TakenAsync(tablet, lines[..1]);

        using var answer = await tablet.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(lines[2..]));

        Assert.Equal(HttpStatusCode.Conflict, answer.StatusCode);
        Assert.Equal(1, (await answer.Content.ReadFromJsonAsync<BatchAnswer>(UplinkFormat.Json))!.Sequence);
    }

    [Fact]
    public async Task Other_content_for_a_held_sequence_is_refused_and_the_first_stays()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var first = await Records.OfJobAsync(tablet.Tablet, FakeTablet.Job, 2);
        await TakenAsync(tablet, first);

        await UplinkTests.RefusedAsync(rig, 409, "fork", tablet.SendSignedAsync(
            UplinkFormat.BatchPath, Records.Body(await Records.OfJobAsync(tablet.Tablet, FakeTablet.Job, 2, "another past"))));

        Assert.True(Assert.Single(rig.Services.Receiver.Chains(tablet.Device)).Forked);
        Assert.Equal(first[1], System.Text.Encoding.UTF8.GetString(rig.Services.Receiver.Read(tablet.Device, FakeTablet.Job).Last().Span).TrimEnd('\n'));
    }

    [Fact]
    public async Task A_forged_entry_breaks_its_chain_and_is_refused()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var lines = await Records.OfJobAsync(tablet.Tablet, FakeTablet.Job, 2);
        lines[1] = lines[1].Replace("as usual", "as wanted", StringComparison.Ordinal);

        await UplinkTests.RefusedAsync(rig, 422, "broken", tablet.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(lines)));
    }

    [Fact]
    public async Task The_record_of_another_tablet_is_refused()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var owner = await rig.PairAsync("van 12");
        using var other = await rig.PairAsync("van 13");
        var lines = await Records.OfJobAsync(owner.Tablet, FakeTablet.Job, 2);

        await UplinkTests.RefusedAsync(rig, 422, "broken", other.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(lines)));
        Assert.Empty(rig.Services.Receiver.Chains(other.Device));
    }

    [Fact]
    public async Task Another_tablets_job_is_neither_checked_in_nor_ended_by_naming_it()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var owner = await rig.PairAsync("van 12");
        using var other = await rig.PairAsync("van 13");
        await owner.BeatAsync(FakeTablet.Beat());
        var before = rig.App.Keeper.View.Watches.Single(watch => watch.Device == owner.Device);

        await other.BeatAsync(FakeTablet.Beat() with { CheckIn = new CheckInStatement(99, 0, 3600, 600, "working") });

        var after = rig.App.Keeper.View.Watches.Single(watch => watch.Device == owner.Device);
        Assert.Equal((before.CheckIn, before.Due), (after.CheckIn, after.Due));
    }

    [Fact]
    public async Task A_job_named_like_a_path_writes_nothing_outside_the_store()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var before = Outside();
        var lines = await Records.OfJobAsync(tablet.Tablet, FakeTablet.Job, 1);
        lines[0] = Records.Rehashed(lines[0].Replace($"{FakeTablet.Job}/", "../../../../companion-escaped/", StringComparison.Ordinal));

        await UplinkTests.RefusedAsync(rig, 422, "broken", tablet.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(lines)));

        Assert.Equal(before, Outside());
        Assert.DoesNotContain(Directory.EnumerateFileSystemEntries(rig.Store, "*", SearchOption.AllDirectories), path => path.Contains("escaped", StringComparison.Ordinal));

        string[] Outside() => [.. Directory.EnumerateFileSystemEntries(Path.GetDirectoryName(rig.Store)!).Where(path => path.Contains("escaped", StringComparison.Ordinal))];
    }

    private static async Task<BatchAnswer> TakenAsync(FakeTablet tablet, string[] lines)
    {
        using var answer = await tablet.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(lines));
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return (await answer.Content.ReadFromJsonAsync<BatchAnswer>(UplinkFormat.Json))!;
    }
}
