using Companion.Domain.Retention;

namespace Companion.Journal.Retention;

/// <summary>
/// Sound that an operator keeps of jobs, in a store's folder `recordings`: a file's name begins with its job's id. The Companion itself records
/// none; what lies there is kept no longer than the policy says. One thread.
/// </summary>
public sealed class RecordingFiles(string store)
{
    private readonly string folder = Path.Combine(store, "recordings");

    /// <summary>Files that are due and of no job on hold, by their last change.</summary>
    public IReadOnlyList<string> Due(RetentionPolicy policy, IReadOnlyCollection<string> onHold, DateTimeOffset now) => !Directory.Exists(folder)
        ? []
        : [.. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
            .Where(file => policy.IsDue(PersonalKind.Recordings, File.GetLastWriteTimeUtc(file), now))
            .Where(file => !onHold.Any(job => Path.GetFileName(file).StartsWith(job, StringComparison.Ordinal)))
            .Order(StringComparer.Ordinal)];
}
