namespace Companion.Watchroom.Watching;

/// <summary>
/// Which watch must be looked at when. A deadline that moves later leaves its place in the queue as it is: the watch is looked at in vain
/// once, and queued again. So a beat costs one look-up. Used by one thread.
/// </summary>
internal sealed class DueQueue
{
    private readonly PriorityQueue<WatchId, DateTimeOffset> queue = new();
    private readonly Dictionary<WatchId, DateTimeOffset> places = [];

    /// <summary>The watch must be looked at by then; null when nothing is awaited.</summary>
    public void Note(WatchId watch, DateTimeOffset? by)
    {
        if (by is { } time && (!places.TryGetValue(watch, out var place) || time < place))
        {
            places[watch] = time;
            queue.Enqueue(watch, time);
        }
    }

    /// <summary>The next watch whose time has come, in order of time, each once.</summary>
    public bool TryTake(DateTimeOffset now, out WatchId watch)
    {
        while (queue.TryPeek(out watch, out var time) && time <= now)
        {
            queue.Dequeue();
            if (places.TryGetValue(watch, out var place) && place == time)
            {
                places.Remove(watch);
                return true;
            }
        }

        return false;
    }
}
