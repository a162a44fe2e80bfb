using System.Collections.Immutable;

namespace Companion.Watchroom.Watching;

/// <summary>
/// What is shown, made from the book only when somebody looks: a beat costs no copy of everything. Written by the keeper's loop, read from
/// any thread.
/// </summary>
internal sealed class WatchBoard(WatchBook book, long version)
{
    private volatile Published published = new(book, version);
    private volatile WatchView? view;

    /// <summary>What is known now.</summary>
    public WatchView View
    {
        get
        {
            var now = published;
            if (view is { } known && known.Version >= now.Version)
            {
                return known;
            }

            return view = Make(now);
        }
    }

    /// <summary>Shows another book; false when it is the same.</summary>
    public bool Publish(WatchBook next)
    {
        var before = published;
        if (ReferenceEquals(before.Book, next))
        {
            return false;
        }

        published = new Published(next, before.Version + 1);
        return true;
    }

    private static WatchView Make(Published now) => new(
        now.Version,
        [.. now.Book.Live.Values.SelectMany(some => some).Select(watched => watched.Shown).OrderBy(shown => shown.OverdueFrom ?? DateTimeOffset.MaxValue)],
        [.. now.Book.Alerts.Values.OrderByDescending(raised => raised.Number).Select(raised => raised.Alert)],
        now.Book.Blind);

    private sealed record Published(WatchBook Book, long Version);
}
