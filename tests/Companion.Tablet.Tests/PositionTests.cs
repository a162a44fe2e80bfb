using System.Net;
using System.Text;
using Companion.Contracts.Uplink;
using Companion.Tablet.Linking;
using Companion.Tablet.Tests.Support;

namespace Companion.Tablet.Tests;

/// <summary>What the page may tell of where the tablet is.</summary>
public sealed class PositionTests : IAsyncLifetime
{
    private const string Good = """{"latitude":51.76215,"longitude":-1.31887,"accuracy":11.2,"age":4000}""";
    private readonly HttpClient _http = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false });
    private readonly HandClock _clock = new();
    private TabletPosition _position = null!;
    private TabletRig _rig = null!;

    public async Task InitializeAsync()
    {
        _position = new TabletPosition(_clock);
        _rig = await TabletRig.StartAsync(position: _position);
    }

    public async Task DisposeAsync()
    {
        _http.Dispose();
        await _rig.DisposeAsync();
    }

    [Fact]
    public async Task A_finding_is_kept_in_memory_with_an_age_that_goes_on_until_it_is_forgotten()
    {
        Assert.Equal(HttpStatusCode.NoContent, await PostAsync(Good));
        _clock.Pass(TimeSpan.FromMinutes(11));
        Assert.Equal(new Whereabouts("51.76215", "-1.31887", 12, 664_000), _position.Latest);
        _clock.Pass(TimeSpan.FromHours(24));
        Assert.Null(_position.Latest);
    }

    [Fact]
    public async Task Nothing_of_it_enters_the_journal()
    {
        await _rig.OpenAsync();
        await PostAsync(Good);
        await _rig.RightlyAsync();
        Assert.NotEmpty(_rig.Entries);
        Assert.DoesNotContain(_rig.Entries, entry => Encoding.UTF8.GetString(entry.Bytes.Span).Contains("51.76215", StringComparison.Ordinal)
            || entry.Sealed.Values.Any(text => text.Text.Contains("51.76215", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Who_stops_sharing_is_forgotten_at_once()
    {
        await PostAsync(Good);
        using var answer = await _http.SendAsync(Request(HttpMethod.Delete, null));
        Assert.Equal((HttpStatusCode.NoContent, null), (answer.StatusCode, _position.Latest));
    }

    [Theory]
    [InlineData("""{"latitude":91,"longitude":0,"accuracy":10,"age":0}""")]
    [InlineData("""{"latitude":-90.00001,"longitude":0,"accuracy":10,"age":0}""")]
    [InlineData("""{"latitude":0,"longitude":180.1,"accuracy":10,"age":0}""")]
    [InlineData("""{"latitude":1e999,"longitude":0,"accuracy":10,"age":0}""")]
    [InlineData("""{"latitude":NaN,"longitude":0,"accuracy":10,"age":0}""")]
    [InlineData("""{"latitude":"NaN","longitude":0,"accuracy":10,"age":0}""")]
    [InlineData("""{"latitude":null,"longitude":0,"accuracy":10,"age":0}""")]
    [InlineData("""{"longitude":0,"accuracy":10,"age":0}""")]
    [InlineData("""{"latitude":1,"longitude":0,"age":0}""")]
    [InlineData("""{"latitude":1,"longitude":0,"accuracy":-1,"age":0}""")]
    [InlineData("""{"latitude":1,"longitude":0,"accuracy":100001,"age":0}""")]
    [InlineData("""{"latitude":1,"longitude":0,"accuracy":10,"age":-1}""")]
    [InlineData("""{"latitude":1,"longitude":0,"accuracy":10,"age":86400001}""")]
    [InlineData("[1, 0, 10, 0]")]
    [InlineData("here")]
    [InlineData("")]
    public async Task What_is_no_finding_is_refused_and_changes_nothing(string body)
    {
        await PostAsync(Good);
        Assert.Equal(HttpStatusCode.BadRequest, await PostAsync(body));
        Assert.Equal("51.76215", _position.Latest!.Latitude);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void What_is_no_number_is_no_finding_in_any_place(double none)
    {
        Assert.False(_position.Take(none, 0, 10, 0) || _position.Take(0, none, 10, 0) || _position.Take(0, 0, none, 0) || _position.Take(0, 0, 10, none));
        Assert.Null(_position.Latest);
    }

    [Fact]
    public void Degrees_are_written_to_a_metre_or_so()
    {
        Assert.True(_position.Take(-0.5, 179.999999, 0, 0));
        Assert.Equal(("-0.50000", "180.00000"), (_position.Latest!.Latitude, _position.Latest.Longitude));
    }

    [Fact]
    public async Task A_huge_body_is_refused_unread() =>
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, await PostAsync(Good + new string(' ', 1 << 20)));

    [Fact]
    public async Task Another_page_and_another_kind_of_body_are_refused()
    {
        Assert.Equal(HttpStatusCode.Forbidden, await PostAsync(Good, request => request.Headers.Add("Origin", "http://evil.example")));
        Assert.Equal(HttpStatusCode.Forbidden, await PostAsync(Good, request => request.Headers.Remove("X-Companion-Token")));
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, await PostAsync(Good, request => request.Content!.Headers.ContentType = new("text/plain")));
        Assert.Null(_position.Latest);
    }

    [Fact]
    public async Task Only_where_it_is_shared_may_a_page_ask_the_browser_and_tell_the_app()
    {
        await using var other = await TabletRig.StartAsync();
        Assert.Equal((true, true, HttpStatusCode.NoContent), await AllowsAsync(_rig));
        Assert.Equal((false, false, HttpStatusCode.MethodNotAllowed), await AllowsAsync(other));
    }

    private async Task<(bool Header, bool Script, HttpStatusCode Post)> AllowsAsync(TabletRig rig)
    {
        using var page = await _http.SendAsync(Request(HttpMethod.Get, null, rig, "/"));
        var header = Assert.Single(page.Headers.GetValues("Permissions-Policy"));
        var script = (await page.Content.ReadAsStringAsync()).Contains("position.js", StringComparison.Ordinal);
        using var post = await _http.SendAsync(Request(HttpMethod.Post, Good, rig));
        return (header == "camera=(), geolocation=(self), microphone=()", script, post.StatusCode);
    }

    private async Task<HttpStatusCode> PostAsync(string body, Action<HttpRequestMessage>? change = null)
    {
        using var request = Request(HttpMethod.Post, body);
        change?.Invoke(request);
        using var answer = await _http.SendAsync(request);
        return answer.StatusCode;
    }

    private HttpRequestMessage Request(HttpMethod method, string? body, TabletRig? rig = null, string path = "/position")
    {
        rig ??= _rig;
        var request = new HttpRequestMessage(method, new Uri($"http://127.0.0.1:{rig.Port}{path}"));
        request.Headers.Add("X-Companion-Token", rig.Token);
        request.Content = body is null ? null : new StringContent(body, Encoding.UTF8, "application/json");
        return request;
    }

    private sealed class HandClock : TimeProvider
    {
        private long _ticks;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override long GetTimestamp() => _ticks;

        public void Pass(TimeSpan time) => _ticks += time.Ticks;
    }
}
