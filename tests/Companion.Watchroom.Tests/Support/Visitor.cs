using System.Net;
using System.Text.RegularExpressions;

namespace Companion.Watchroom.Tests.Support;

/// <summary>A browser without a screen: keeps cookies, and sends forms with the token of the page they stand on.</summary>
public sealed partial class Visitor(WatchroomRig rig) : IDisposable
{
    private readonly CookieContainer cookies = new();
    private HttpClient? client;

    /// <summary>What a thief would copy.</summary>
    public string Session => cookies.GetCookies(rig.App.Address)["__Host-companion"]!.Value;

    private HttpClient Client => client ??= Pinned.Client(rig, cookies);

    public static async Task<Visitor> SignedInAsync(WatchroomRig rig, string name = "Runa Holt")
    {
        var visitor = new Visitor(rig);
        using var answer = await visitor.SignInAsync(name, WatchroomRig.Password);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return visitor;
    }

    public Task<HttpResponseMessage> SignInAsync(string name, string password) => PostAsync("/login", "/login", ("name", name), ("password", password));

    public Task<HttpResponseMessage> GetAsync(string path, string accept = "text/html", string? cookie = null, string? lastEvent = null)
    {
        var request = new HttpRequestMessage(HttpMethod.Get, new Uri(rig.App.Address, path));
        request.Headers.Add("Accept", accept);
        if (cookie is not null)
        {
            request.Headers.Add("Cookie", $"__Host-companion={cookie}");
        }

        if (lastEvent is not null)
        {
            request.Headers.Add("Last-Event-ID", lastEvent);
        }

        return Client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead);
    }

    public async Task<string> ReadAsync(string path)
    {
        using var answer = await GetAsync(path);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return await answer.Content.ReadAsStringAsync();
    }

    /// <summary>Sends a form from a page.</summary>
    public async Task<HttpResponseMessage> PostAsync(string page, string path, params (string Name, string Value)[] fields)
    {
        var token = Token().Match(await ReadAsync(page)).Groups[1].Value;
        return await PostWithoutTokenAsync(path, [.. fields, ("__RequestVerificationToken", token)]);
    }

    public Task<HttpResponseMessage> PostWithoutTokenAsync(string path, params (string Name, string Value)[] fields) => Client.SendAsync(
        new HttpRequestMessage(HttpMethod.Post, new Uri(rig.App.Address, path)) { Content = new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Name, field.Value))) });

    public void Dispose() => client?.Dispose();

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
