using System.Security.Cryptography;
using System.Text;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Telling;

/// <summary>One alert on its way to one target.</summary>
/// <param name="Alert">The alert.</param>
/// <param name="Target">Who is told.</param>
internal sealed record Telling(Alert Alert, RingTarget Target)
{
    /// <summary>The same at every attempt and after every restart: the receiver drops what it has had.</summary>
    public string Id { get; } = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{Alert.Id}\n{Target.Name}")))[..40];

    /// <summary>When this attempt was begun.</summary>
    public DateTimeOffset At { get; init; }

    /// <summary>Where the tablet was found last, as far as it was known then; null when it was not.</summary>
    public LastPosition? Position { get; init; }
}

/// <summary>Where a telling stands.</summary>
public enum TellingStep
{
    /// <summary>Its time has not come.</summary>
    Waiting,

    /// <summary>Being told.</summary>
    Trying,

    /// <summary>The other side took it.</summary>
    Sent,

    /// <summary>It did not work; it is tried again.</summary>
    Failed,
}

/// <summary>What the board shows of a telling.</summary>
/// <param name="Alert">The alert's id.</param>
/// <param name="Target">Who is told.</param>
/// <param name="Channel">By what.</param>
/// <param name="Step">Where it stands.</param>
/// <param name="At">Told at, or next tried at.</param>
/// <param name="Attempts">How often it was tried.</param>
/// <param name="Reason">Why the last attempt failed; empty when none did.</param>
public sealed record TellingState(string Alert, string Target, RingChannel Channel, TellingStep Step, DateTimeOffset? At, int Attempts, string Reason);
