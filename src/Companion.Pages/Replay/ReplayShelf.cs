using Companion.Review;
using Companion.Review.Replaying;

namespace Companion.Pages.Replay;

/// <summary>
/// The records that are being replayed, kept open for a short while: reading one for every picture would not be smooth. What was erased
/// meanwhile goes with the next reading. Callable from any thread.
/// </summary>
public sealed class ReplayShelf(IRecordSource source, TimeProvider time)
{
    /// <summary>Most records that are kept open.</summary>
    public const int Most = 4;

    /// <summary>A record is read anew after this: a job that still runs has grown, a text may have been erased.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);

    private readonly Lock _lock = new();
    private readonly List<Kept> _kept = [];

    /// <summary>The record of this name; null when there is none.</summary>
    public JobReplay? Find(RecordName name)
    {
        lock (_lock)
        {
            var now = time.GetTimestamp();
            _kept.RemoveAll(kept => time.GetElapsedTime(kept.Since, now) > Longest);
            if (_kept.Find(kept => kept.Name == name) is { } found)
            {
                return found.Replay;
            }

            if (source.Open(name) is not { } record)
            {
                return null;
            }

            if (_kept.Count == Most)
            {
                _kept.RemoveAt(0);
            }

            var replay = new JobReplay(record);
            _kept.Add(new Kept(name, replay, now));
            return replay;
        }
    }

    private sealed record Kept(RecordName Name, JobReplay Replay, long Since);
}
