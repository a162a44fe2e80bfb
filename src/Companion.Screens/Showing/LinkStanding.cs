using System.Collections.Immutable;
using Companion.Contracts.Uplink;

namespace Companion.Screens.Showing;

/// <summary>How the link to the watch room stands, as the app knows it.</summary>
public sealed record LinkStanding
{
    /// <summary>Entries that the watch room does not hold yet.</summary>
    public long Waiting { get; init; }

    /// <summary>Their bytes as they are sent.</summary>
    public long Bytes { get; init; }

    /// <summary>When the oldest of them was recorded, by the tablet's own clock; null when none waits.</summary>
    public DateTimeOffset? Since { get; init; }

    /// <summary>Why they stay here, and what to do; null while they go.</summary>
    public string? Trouble { get; init; }

    /// <summary>Records that the watch room refuses, each with its reason.</summary>
    public ImmutableArray<RefusedRecord> Refused { get; init; } = [];

    /// <summary>True when the operator lets the tablet tell where it is.</summary>
    public bool SharesPosition { get; init; }

    /// <summary>Where the tablet is by its own finding; null when unknown, or not shared.</summary>
    public Whereabouts? Where { get; init; }
}
