using System.Net;
using System.Net.WebSockets;
using Companion.Tablet.Tests.Support;
using Companion.Tablet.Web;

namespace Companion.Tablet.Tests;

public sealed class GateTests : IAsyncLifetime
{
    private readonly HttpClient _http = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false });
    private TabletRig _rig = null!;

    private Uri Root => new($"http://127.0.0.1:{_rig.Port}/");

    public async Task InitializeAsync() => _rig = await TabletRig.StartAsync();

    public async Task DisposeAsync()
    {
        _http.Dispose();
        await _rig.DisposeAsync();
    }

    [Fact]
    public async Task The_token_of_the_first_load_becomes_a_cookie_that_scripts_and_other_sites_cannot_use()
    {
        var answer = await _http.GetAsync(TabletWeb.Address(_rig.Web));

        var cookie = Assert.Single(answer.Headers.GetValues("Set-Cookie"));
        Assert.Equal((HttpStatusCode.Redirect, "/"), (answer.StatusCode, answer.Headers.Location!.ToString()));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/cuff")]
    [InlineData("/beat")]
    [InlineData("/sheet")]
    [InlineData("/sheet/7")]
    [InlineData("/sheet/7/document")]
    [InlineData("/screen.js")]
    [InlineData("/_framework/blazor.web.js")]
    [InlineData("/nothing-here")]
    public async Task Without_the_token_nothing_is_given(string path)
    {
        Assert.Equal(HttpStatusCode.Forbidden, (await _http.GetAsync(new Uri(Root, path))).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await _http.GetAsync(new Uri(Root, path + "?token=0000"))).StatusCode);
    }

    [Theory]
    [InlineData("localhost")]
    [InlineData("evil.example")]
    [InlineData("127.0.0.1:1")]
    public async Task Another_host_name_is_refused_even_with_the_token(string host)
    {
        var request = Known(HttpMethod.Get, "/beat");
        request.Headers.Host = host.Contains(':') ? host : $"{host}:{_rig.Port}";

        Assert.Equal(HttpStatusCode.Forbidden, (await _http.SendAsync(request)).StatusCode);
    }

    [Theory]
    [InlineData("http://evil.example")]
    [InlineData("null")]
    [InlineData("http://127.0.0.1:1")]
    public async Task Another_origin_is_refused_even_with_the_token(string origin)
    {
        var request = Known(HttpMethod.Post, "/_blazor/negotiate?negotiateVersion=1");
        request.Headers.Add("Origin", origin);

        Assert.Equal(HttpStatusCode.Forbidden, (await _http.SendAsync(request)).StatusCode);
    }

    [Theory]
    [InlineData("http://evil.example")]
    [InlineData(null)]
    public async Task A_socket_from_another_page_or_from_none_is_refused(string? origin)
    {
        using var socket = new ClientWebSocket();
        socket.Options.SetRequestHeader("X-Companion-Token", _rig.Token);
        socket.Options.CollectHttpResponseDetails = true;
        if (origin is not null)
        {
            socket.Options.SetRequestHeader("Origin", origin);
        }

        await Assert.ThrowsAsync<WebSocketException>(() =>
            socket.ConnectAsync(new Uri($"ws://127.0.0.1:{_rig.Port}/_blazor"), CancellationToken.None));
        Assert.Equal(HttpStatusCode.Forbidden, socket.HttpStatusCode);
    }

    [Fact]
    public async Task Every_answer_allows_only_own_scripts_styles_and_fonts_and_no_frame()
    {
        var answer = await _http.SendAsync(Known(HttpMethod.Get, "/"));
        var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.StartsWith("default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; ", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("frame-src 'self';", policy, StringComparison.Ordinal);
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
    }

    [Fact]
    public async Task The_page_comes_covered_and_without_any_verdict_before_its_script_runs()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(Companion.Domain.Asking.NeedKind.Working);

        var html = await (await _http.SendAsync(Known(HttpMethod.Get, "/"))).Content.ReadAsStringAsync();

        Assert.Contains("Treat as live.", html, StringComparison.Ordinal);
        Assert.DoesNotContain("clear to work", html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("role=\"timer\"", html, StringComparison.Ordinal);
        Assert.DoesNotContain("data-link=\"up\"", html, StringComparison.Ordinal);
    }

    private HttpRequestMessage Known(HttpMethod method, string path)
    {
        var request = new HttpRequestMessage(method, new Uri(Root, path));
        request.Headers.Add("X-Companion-Token", _rig.Token);
        return request;
    }
}
