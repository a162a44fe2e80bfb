using System.IO.Compression;
using System.Net;
using System.Net.Http.Json;
using System.Security.Cryptography;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Web;

/// <summary>What tablets send, over real HTTPS: what is taken, what is refused, and with which words.</summary>
public sealed class UplinkTests
{
    [Fact]
    public async Task A_paired_tablet_is_watched_from_its_first_beat()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();

        var answer = await tablet.BeatAsync(FakeTablet.Beat());

        Assert.Equal(1, answer.CheckIn);
        var watch = Assert.Single(rig.App.Keeper.View.Watches);
        Assert.Equal((tablet.Device, FakeTablet.Job), (watch.Device, watch.Job));
    }

    [Fact]
    public async Task A_request_signed_with_another_key_is_refused()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        tablet.Key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

        await RefusedAsync(rig, 401, "signature", tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat())));
        Assert.Empty(rig.App.Keeper.View.Watches);
    }

    [Fact]
    public async Task A_signature_that_was_made_for_another_path_or_by_another_tablet_is_refused()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        using var other = await rig.PairAsync("van 13");
        var beat = FakeTablet.Bytes(FakeTablet.Beat());

        await RefusedAsync(rig, 401, "signature", tablet.SendSignedAsync(UplinkFormat.BeatPath, beat, signedPath: UplinkFormat.BatchPath));
        other.Device = tablet.Device;
        await RefusedAsync(rig, 401, "signature", other.SendSignedAsync(UplinkFormat.BeatPath, beat));
        Assert.Empty(rig.App.Keeper.View.Watches);
    }

    [Fact]
    public async Task A_body_that_was_changed_on_the_way_is_refused()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        using var other = new ByteArrayContent(FakeTablet.Bytes(FakeTablet.Beat("job-8")));
        using var client = Pinned.Client(rig);
        HttpContent? signed = null;
        (await tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat()), content => signed = content)).Dispose();
        foreach (var header in signed!.Headers.Where(header => header.Key.StartsWith("Companion", StringComparison.Ordinal)))
        {
            other.Headers.Add(header.Key, header.Value);
        }

        other.Headers.Add(UplinkFormat.VersionHeader, UplinkFormat.Version);
        await RefusedAsync(rig, 401, "signature", client.PostAsync(new Uri(rig.App.Address, UplinkFormat.BeatPath), other));
    }

    [Fact]
    public async Task A_replayed_request_is_refused_also_after_a_restart_and_the_tablet_is_told_where_to_go_on()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Beat());
        await tablet.BeatAsync(FakeTablet.Beat());

        tablet.Counter = 1;
        Assert.Equal(3, (await RefusedAsync(rig, 409, "replay", tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat())))).LeastCounter);

        await rig.RestartAsync();
        tablet.Counter = 1;
        var least = (await RefusedAsync(rig, 409, "replay", tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat())))).LeastCounter;
        tablet.Counter = least!.Value - 1;
        await tablet.BeatAsync(FakeTablet.Beat());
    }

    [Fact]
    public async Task An_unknown_tablet_is_refused_and_a_revoked_one_at_once()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var stranger = new FakeTablet(rig, "stranger") { Device = "../../people" };
        await RefusedAsync(rig, 401, "device", stranger.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat())));

        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Beat());
        rig.Services.Devices.Revoke(tablet.Device);
        await RefusedAsync(rig, 403, "revoked", tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat())));
    }

    [Fact]
    public async Task A_list_of_tablets_that_was_broken_by_hand_keeps_no_beat_out()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Beat());

        await File.WriteAllTextAsync(Path.Combine(rig.Store, "devices.json"), "[{");

        await tablet.BeatAsync(FakeTablet.Beat());
        Assert.ThrowsAny<IOException>(() => rig.Services.Devices.Revoke(tablet.Device));
        Assert.Equal("[{", await File.ReadAllTextAsync(Path.Combine(rig.Store, "devices.json")));
    }

    [Fact]
    public async Task A_body_that_does_not_tell_its_length_is_refused_as_soon_as_it_is_too_large()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();

        await RefusedAsync(rig, 413, "size", tablet.SendSignedAsync(UplinkFormat.BatchPath, new byte[UplinkFormat.LargestBatch + 1], chunked: true));
    }

    [Fact]
    public async Task Bodies_that_are_too_large_are_refused()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();

        await RefusedAsync(rig, 413, "size", tablet.SendSignedAsync(UplinkFormat.BeatPath, new byte[UplinkFormat.LargestBeat + 1]));
        await RefusedAsync(rig, 413, "size", tablet.SendSignedAsync(UplinkFormat.BatchPath, new byte[UplinkFormat.LargestBatch + 1]));
    }

    [Fact]
    public async Task A_packed_body_is_not_unpacked()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
        {
            gzip.Write(new byte[32 << 20]);
        }

        await RefusedAsync(rig, 415, "encoding", tablet.SendSignedAsync(UplinkFormat.BatchPath, packed.ToArray(), content => content.Headers.ContentEncoding.Add("gzip")));
    }

    [Theory]
    [InlineData("", 400)]
    [InlineData("one", 400)]
    [InlineData("2", 426)]
    public async Task Another_version_of_the_format_is_refused(string version, int status)
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        tablet.Version = version;

        await RefusedAsync(rig, status, "version", tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat())));
    }

    [Fact]
    public async Task A_body_that_is_no_beat_is_refused()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();

        await RefusedAsync(rig, 400, "form", tablet.SendSignedAsync(UplinkFormat.BeatPath, "{\"job\":7}"u8.ToArray()));
    }

    [Fact]
    public async Task A_tablet_that_is_refused_again_and_again_does_not_fill_the_audit_chain()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        for (var n = 0; n < 40; n++)
        {
            using var answer = await tablet.SendSignedAsync(UplinkFormat.BeatPath, "{}"u8.ToArray());
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        }

        await WatchroomRig.UntilAsync(() => Forms() > 0, "the audit chain has it");
        Assert.InRange(Forms(), 1, 2 * Companion.Watchroom.Access.Audit.MostAMinute);

        int Forms() => rig.Audit().Count(entry => entry.Contains("\"kind\":\"form\"", StringComparison.Ordinal));
    }

    /// <summary>Asserts the status, a reason, and an entry in the audit chain.</summary>
    internal static async Task<Refused> RefusedAsync(WatchroomRig rig, int status, string kind, Task<HttpResponseMessage> sending)
    {
        using var answer = await sending;
        Assert.Equal(status, (int)answer.StatusCode);
        var refused = (await answer.Content.ReadFromJsonAsync<Refused>(UplinkFormat.Json))!;
        Assert.NotEmpty(refused.Reason);
        await WatchroomRig.UntilAsync(() => rig.Audit().Any(entry => entry.Contains($"\"kind\":\"{kind}\"", StringComparison.Ordinal)), $"'{kind}' stands in the audit chain");
        return refused;
    }
}
