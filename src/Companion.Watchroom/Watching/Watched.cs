using System.Collections.Immutable;

namespace Companion.Watchroom.Watching;

/// <summary>A watch with what the keeper must remember of it beyond what is shown.</summary>
/// <param name="Id">What is watched.</param>
/// <param name="Shown">What is shown.</param>
internal sealed record Watched(WatchId Id, Watch Shown)
{
    /// <summary>The check-in that the deadline counts from; not the latest one when that came too late to say anything of now.</summary>
    public long? Epoch { get; init; }

    /// <summary>How often the tablet fell silent.</summary>
    public long Silences { get; init; }

    /// <summary>True from a silent-link alert to the next beat.</summary>
    public bool IsSilent { get; init; }

    /// <summary>Since when the tablet has been saying that it is not at this job; null while it is.</summary>
    public DateTimeOffset? GoneSince { get; init; }

    /// <summary>The tablet's calls by id, with the alert that each belongs to.</summary>
    public ImmutableDictionary<string, string> Calls { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>The alerts raised over it.</summary>
    public ImmutableArray<string> Alerts { get; init; } = [];
}
