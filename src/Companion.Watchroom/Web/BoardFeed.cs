using System.Collections.Concurrent;
using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using System.Threading.Channels;

namespace Companion.Watchroom.Web;

/// <summary>What the feed says.</summary>
/// <param name="Version">Of the board; differs after every restart.</param>
/// <param name="Now">The watch room's time, Unix milliseconds: ages are counted by it.</param>
internal sealed record FeedWord(string Version, long Now);

/// <summary>
/// Tells every open page that the board changed, and every two seconds that the watch room watches. One producer; each page has a short queue
/// of its own whose oldest word is dropped, so that no slow page holds up another.
/// </summary>
internal sealed class BoardFeed(WatchroomServices services, IHostApplicationLifetime lifetime) : BackgroundService
{
    /// <summary>The board changed: fetch it.</summary>
    public const string Change = "change";

    /// <summary>The watch room watches.</summary>
    public const string Alive = "alive";

    private const int Waiting = 4;
    private const int MostPages = 500;
    private const int TurnsToAlive = 8;
    private static readonly TimeSpan Turn = TimeSpan.FromMilliseconds(250);
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(1);
    private readonly string instance = RandomNumberGenerator.GetHexString(8, lowercase: true);
    private readonly ConcurrentDictionary<Channel<SseItem<FeedWord>>, bool> pages = new();
    private long version;
    private int changed;

    /// <summary>The version of the board now.</summary>
    public string Version => $"{instance}-{Volatile.Read(ref version)}";

    /// <summary>The board changed. Returns at once.</summary>
    public void Notice() => Interlocked.Exchange(ref changed, 1);

    /// <summary>The words for one page, until it goes, or may no longer listen.</summary>
    /// <param name="last">The version that the page heard of last; null for none.</param>
    /// <param name="mayListen">Asked before every word: a session that has ended hears nothing more.</param>
    public async IAsyncEnumerable<SseItem<FeedWord>> ListenAsync(string? last, Func<bool> mayListen, [EnumeratorCancellation] CancellationToken gone = default)
    {
        if (pages.Count >= MostPages)
        {
            // The page finds itself without a word, and says so.
            yield break;
        }

        using var either = CancellationTokenSource.CreateLinkedTokenSource(gone, lifetime.ApplicationStopping);
        var page = Channel.CreateBounded<SseItem<FeedWord>>(new BoundedChannelOptions(Waiting) { FullMode = BoundedChannelFullMode.DropOldest });
        pages[page] = true;
        try
        {
            yield return Word(last == Version ? Alive : Change);
            while (await MoreAsync(page.Reader, either.Token).ConfigureAwait(false))
            {
                while (page.Reader.TryRead(out var word))
                {
                    if (!mayListen())
                    {
                        yield break;
                    }

                    yield return word;
                }
            }
        }
        finally
        {
            pages.TryRemove(page, out _);
        }
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        services.Keeper.Changed += Notice;
        services.Teller.Changed += Notice;
        using var timer = new PeriodicTimer(Turn);
        var faults = string.Empty;
        try
        {
            for (var turn = 0; await timer.WaitForNextTickAsync(stoppingToken).ConfigureAwait(false); turn++)
            {
                var now = string.Join('\n', services.Troubles.Now().Select(trouble => $"{trouble.Id} {trouble.Words} {trouble.Noted}"));
                if (Interlocked.Exchange(ref changed, 0) == 1 || now != faults)
                {
                    faults = now;
                    Interlocked.Increment(ref version);
                    Send(Change);
                }
                else if (turn % TurnsToAlive == 0)
                {
                    Send(Alive);
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The watch room stops; the pages find out by themselves.
        }

        services.Keeper.Changed -= Notice;
        services.Teller.Changed -= Notice;
    }

    /// <summary>When deadlines are not looked at, the feed falls silent and the pages sound their alarm: a word would be a lie.</summary>
    private void Send(string kind)
    {
        if (services.IsWatching())
        {
            foreach (var page in pages.Keys)
            {
                page.Writer.TryWrite(Word(kind));
            }
        }
    }

    private SseItem<FeedWord> Word(string kind) => new(new FeedWord(Version, services.Time.GetUtcNow().ToUnixTimeMilliseconds()), kind)
    {
        EventId = Version,
        ReconnectionInterval = Again,
    };

    private static async Task<bool> MoreAsync(ChannelReader<SseItem<FeedWord>> reader, CancellationToken gone)
    {
        try
        {
            return await reader.WaitToReadAsync(gone).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }
}
