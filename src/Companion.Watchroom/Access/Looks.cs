using System.Collections.Concurrent;

namespace Companion.Watchroom.Access;

/// <summary>
/// Writes down who looked at a job. A page is written down every time; the parts that it asks for, many a second, only when nothing of that person and job was
/// written in the last hour. Callable from any thread.
/// </summary>
internal sealed class Looks(Audit audit, TimeProvider time)
{
    /// <summary>So long a look covers the parts of the same job.</summary>
    public static readonly TimeSpan Lasts = TimeSpan.FromHours(1);

    private const int MostKnown = 10_000;
    private readonly ConcurrentDictionary<(string Person, string Device, string Job), DateTimeOffset> known = new();

    /// <summary>Somebody looks at a job; durable when this completes.</summary>
    public async Task AtAsync(string person, string device, string job, string what)
    {
        await audit.LookedAsync(person, device, job, what).ConfigureAwait(false);
        if (known.Count >= MostKnown)
        {
            // Whoever looks on is written down once more.
            known.Clear();
        }

        known[(person, device, job)] = time.GetUtcNow();
    }

    /// <summary>Somebody is given a part of a job.</summary>
    public Task AtPartAsync(string person, string device, string job) =>
        known.TryGetValue((person, device, job), out var last) && time.GetUtcNow() - last < Lasts ? Task.CompletedTask : AtAsync(person, device, job, "parts");
}
