using System.Diagnostics;

namespace Companion.Watchroom.Access;

/// <summary>
/// The last counter of every device and path, so that no request is taken twice. What is durable is a bound some way ahead: a beat costs no
/// write, and after a restart nothing at or below the bound is taken, whether it was used or not. A disk that takes nothing keeps no beat out,
/// and so no call for help (I16): until it can be written, counters are remembered in memory alone. Callable from any thread.
/// </summary>
internal sealed class Counters(string store)
{
    /// <summary>Counters that one durable write covers: beats of more than an hour.</summary>
    public const long Block = 1000;

    /// <summary>The largest counter that is taken; a device that came so far was paired anew.</summary>
    public const long Largest = 1L << 53;

    /// <summary>How long a disk that took nothing is left alone.</summary>
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(10);

    private readonly KeptFile<Dictionary<string, long>> file = new(Path.Combine(store, "counters.json"), []);
    private readonly Dictionary<string, Known> counters = [];
    private readonly Lock gate = new();
    private long failedAt = long.MinValue;

    /// <summary>Takes a counter that is above all before it and returns null; else returns the least that would be taken.</summary>
    public long? Take(string device, string path, long counter)
    {
        var key = $"{device} {path}";
        var known = KnownOf(key);
        lock (known)
        {
            if (counter <= known.Last)
            {
                return known.Last + 1;
            }

            if (counter > known.Bound && IsKept(key, counter + Block))
            {
                known.Bound = counter + Block;
            }

            known.Last = counter;
            return null;
        }
    }

    private bool IsKept(string key, long bound)
    {
        var failed = Interlocked.Read(ref failedAt);
        if (failed != long.MinValue && Stopwatch.GetElapsedTime(failed) < Pause)
        {
            return false;
        }

        try
        {
            return file.Change(bounds => (new Dictionary<string, long>(bounds) { [key] = bound }, true));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            Interlocked.Exchange(ref failedAt, Stopwatch.GetTimestamp());
            return false;
        }
    }

    private Known KnownOf(string key)
    {
        lock (gate)
        {
            if (!counters.TryGetValue(key, out var known))
            {
                var bound = file.Read().GetValueOrDefault(key);
                counters[key] = known = new Known { Last = bound, Bound = bound };
            }

            return known;
        }
    }

    private sealed class Known
    {
        public long Last { get; set; }

        public long Bound { get; set; }
    }
}
