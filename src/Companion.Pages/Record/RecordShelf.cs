using Companion.Review;

namespace Companion.Pages.Record;

/// <summary>
/// The records that are being looked at, kept open for a short while: reading one for every picture and every step of the zoom would not be smooth.
/// One that has grown, or of which a text was erased, is read anew at once. Callable from any thread.
/// </summary>
public sealed class RecordShelf(IRecordSource source, TimeProvider time)
{
    /// <summary>Most records that are kept open.</summary>
    public const int Most = 4;

    /// <summary>A record is read anew after this, whatever its stamp: names and texts are not kept in memory for longer than somebody looks.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);

    private readonly Lock _lock = new();
    private readonly List<Kept> _kept = [];

    /// <summary>The record of this name; null when there is none.</summary>
    public OpenRecord? Find(RecordName name)
    {
        lock (_lock)
        {
            var now = time.GetTimestamp();
            _kept.RemoveAll(kept => time.GetElapsedTime(kept.Since, now) > Longest);
            if (_kept.Find(kept => kept.Name == name) is { } found)
            {
                if (found.Stamp == source.StampOf(name))
                {
                    return found.Record;
                }

                _kept.Remove(found);
            }

            return Open(name, now);
        }
    }

    /// <summary>The stamp is taken before the reading: what is recorded or erased meanwhile makes it differ the next time.</summary>
    private OpenRecord? Open(RecordName name, long now)
    {
        var stamp = source.StampOf(name);
        if (source.Open(name) is not { } job)
        {
            return null;
        }

        if (_kept.Count == Most)
        {
            _kept.RemoveAt(0);
        }

        var record = new OpenRecord(job);
        _kept.Add(new Kept(name, record, stamp, now));
        return record;
    }

    private sealed record Kept(RecordName Name, OpenRecord Record, string Stamp, long Since);
}
