using System.Net;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Web;

namespace Companion.Watchroom.Tests.Web;

/// <summary>How often one address may ask for what, each limit by itself, and that none of them reaches a beat: a beat refused is a false alarm.</summary>
public sealed class LimitTests
{
    private const int AtOnce = 16;

    // A guesser with an ordinary line has 2^64 addresses of IPv6.
    [Theory]
    [InlineData("2001:db8:1:2::1", "2001:db8:1:2:ffff:ffff:ffff:ffff", true)]
    [InlineData("2001:db8:1:2::1", "2001:db8:1:3::1", false)]
    [InlineData("192.0.2.1", "::ffff:192.0.2.1", true)]
    [InlineData("192.0.2.1", "192.0.2.2", false)]
    public void A_network_of_IPv6_counts_as_one_address(string one, string other, bool same) =>
        Assert.Equal(same, Limits.NetworkOf(IPAddress.Parse(one)) == Limits.NetworkOf(IPAddress.Parse(other)));

    [Fact]
    public async Task Introductions_and_sign_ins_are_limited_to_ten_a_minute_each_by_itself()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var stranger = new FakeTablet(rig, "stranger");
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(() => stranger.IntroduceAsync("00000000")));
        Assert.Equal(Limits.StrictlyAMinute - 1, await AdmittedAsync(20, () => stranger.IntroduceAsync("00000000")));

        // Wrong passwords for a name that nobody has, so that no lock-out is what answers.
        using var guesser = new Visitor(rig);
        Assert.Equal(Limits.StrictlyAMinute, await AdmittedAsync(15, () => guesser.SignInAsync("nobody of that name", "a guess of twelve letters")));
        using var refused = await guesser.SignInAsync("nobody of that name", "a guess of twelve letters");
        Assert.Equal("60", refused.Headers.RetryAfter!.ToString());
        await WatchroomRig.UntilAsync(() => rig.Audit().Any(entry => entry.Contains("\"kind\":\"toooften\"", StringComparison.Ordinal)), "the audit chain has it");
    }

    [Fact]
    public async Task Pages_and_batches_are_limited_and_beats_are_not_even_then()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        using var visitor = new Visitor(rig);
        Assert.Equal(Limits.PagesAMinute, await AdmittedAsync(Limits.PagesAMinute + 30, () => visitor.GetAsync("/board.css")));

        using var stranger = new FakeTablet(rig, "stranger") { Device = "nobody" };
        Assert.Equal(Limits.BatchesAMinute, await AdmittedAsync(Limits.BatchesAMinute + 30, () => stranger.SendSignedAsync(UplinkFormat.BatchPath, "x"u8.ToArray())));
        Assert.Equal(HttpStatusCode.TooManyRequests, await StatusAsync(() => tablet.SendSignedAsync(UplinkFormat.BatchPath, "x"u8.ToArray())));

        // A stranger's beats are refused, but never for being many; a tablet's are taken beside them.
        var most = Math.Max(Limits.PagesAMinute, Limits.BatchesAMinute);
        Assert.Equal(most + 30, await AdmittedAsync(most + 30, () => stranger.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat()))));
        await tablet.BeatAsync(FakeTablet.Beat());
    }

    /// <summary>How many of so many requests were not refused for being too many.</summary>
    private static async Task<int> AdmittedAsync(int requests, Func<Task<HttpResponseMessage>> send)
    {
        var admitted = 0;
        foreach (var some in Enumerable.Range(0, requests).Chunk(AtOnce))
        {
            admitted += (await Task.WhenAll(some.Select(_ => StatusAsync(send)))).Count(status => status != HttpStatusCode.TooManyRequests);
        }

        return admitted;
    }

    private static async Task<HttpStatusCode> StatusAsync(Func<Task<HttpResponseMessage>> send)
    {
        using var answer = await send();
        return answer.StatusCode;
    }
}
