using System.Collections.Immutable;

namespace Companion.Uplink;

/// <summary>How the link to the watch room stands. Immutable.</summary>
public sealed record UplinkState
{
    /// <summary>True when the tablet has a watch room.</summary>
    public bool IsPaired { get; init; }

    /// <summary>When the last beat that was answered was sent, by <see cref="TimeProvider.GetTimestamp"/>; null when none was.</summary>
    public long? LastAnswer { get; init; }

    /// <summary>Why beats are not answered, and what to do; null while they are.</summary>
    public string? BeatTrouble { get; init; }

    /// <summary>Why entries stay here, and what to do; null while they go.</summary>
    public string? OutboxTrouble { get; init; }

    /// <summary>Entries that the watch room does not hold yet.</summary>
    public long Waiting { get; init; }

    /// <summary>Their bytes as they are sent.</summary>
    public long WaitingBytes { get; init; }

    /// <summary>When the oldest of them was recorded, by the tablet's own clock; null when none waits.</summary>
    public DateTimeOffset? WaitingSince { get; init; }

    /// <summary>Chains that the watch room refuses, each with its reason; they wait too.</summary>
    public ImmutableArray<RefusedChain> Refused { get; init; } = [];

    /// <summary>Bytes of entries sent, again or not, by chain.</summary>
    public ImmutableDictionary<string, long> BytesByChain { get; init; } = ImmutableDictionary<string, long>.Empty;
}
