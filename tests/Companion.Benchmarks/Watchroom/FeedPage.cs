using System.Diagnostics;

namespace Companion.Benchmarks.Watchroom;

/// <summary>An open page without its browser: it listens to the feed over a connection of its own, and fetches the board. Callable from any thread.</summary>
internal sealed class FeedPage : IDisposable
{
    private readonly HttpClient http;
    private readonly StreamReader feed;
    private readonly string cookie;
    private volatile TaskCompletionSource<long> next = new();

    private FeedPage(HttpClient http, string cookie, StreamReader feed)
    {
        (this.http, this.cookie, this.feed) = (http, cookie, feed);
        _ = Task.Run(ListenAsync);
    }

    /// <summary>Opens it.</summary>
    /// <param name="address">The watch room.</param>
    /// <param name="certificate">Its certificate.</param>
    /// <param name="cookie">The session.</param>
    public static async Task<FeedPage> OpenAsync(Uri address, string certificate, string cookie)
    {
        var http = SigningTablet.Http(certificate);
        http.BaseAddress = address;
        var answer = await http.SendAsync(Request("/feed", "text/event-stream", cookie), HttpCompletionOption.ResponseHeadersRead);
        return new FeedPage(http, cookie, new StreamReader(await answer.EnsureSuccessStatusCode().Content.ReadAsStreamAsync()));
    }

    /// <summary>The next word of a change from now on: the timestamp at which the page has read it.</summary>
    public Task<long> NextChange()
    {
        next = new TaskCompletionSource<long>(TaskCreationOptions.RunContinuationsAsynchronously);
        return next.Task;
    }

    /// <summary>The board as it is now.</summary>
    public async Task<string> BoardAsync()
    {
        using var answer = await http.SendAsync(Request("/board", "text/plain", cookie));
        return await answer.EnsureSuccessStatusCode().Content.ReadAsStringAsync();
    }

    public void Dispose() => http.Dispose();

    private static HttpRequestMessage Request(string path, string accept, string cookie)
    {
        var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Accept", accept);
        request.Headers.Add("Cookie", cookie);
        return request;
    }

    /// <summary>An event counts when its empty line has come, as a browser takes it.</summary>
    private async Task ListenAsync()
    {
        var isChange = false;
        try
        {
            while (await feed.ReadLineAsync() is { } line)
            {
                isChange |= line == "event: change";
                if (line.Length == 0 && isChange)
                {
                    isChange = false;
                    next.TrySetResult(Stopwatch.GetTimestamp());
                }
            }
        }
        catch (Exception cause) when (cause is IOException or HttpRequestException or ObjectDisposedException or OperationCanceledException)
        {
            next.TrySetException(cause);
        }
    }
}
