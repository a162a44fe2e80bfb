using Companion.Review;
using Companion.Review.Lines;
using Companion.Review.Replaying;

namespace Companion.Pages.Record;

/// <summary>A record that is being looked at, with what the pages make of it: each once, and only when it is asked for. Any thread.</summary>
/// <param name="job">The record.</param>
public sealed class OpenRecord(RecordedJob job)
{
    private readonly Lazy<Timeline> line = new(() => Timeline.Of(job));
    private readonly Lazy<JobReplay> replay = new(() => new JobReplay(job));

    /// <summary>The record.</summary>
    public RecordedJob Job => job;

    /// <summary>Its timeline.</summary>
    public Timeline Line => line.Value;

    /// <summary>Its replay.</summary>
    public JobReplay Replay => replay.Value;
}
