using Companion.Watchroom.Watching;

namespace Companion.Simulation.Watched;

/// <summary>An alert that must stand.</summary>
/// <param name="Kind">Of which kind.</param>
/// <param name="Device">Over which tablet.</param>
/// <param name="Job">Over which job.</param>
/// <param name="Raised">Since when, exactly.</param>
/// <param name="About">The check-in that it is about, or the call, in a word; null for a silent link.</param>
internal sealed record OwedAlert(AlertKind Kind, string Device, string Job, DateTimeOffset Raised, string? About)
{
    /// <summary>The product's name for it, once it has been seen.</summary>
    public string? Id { get; set; }

    /// <summary>True once a person took it.</summary>
    public bool IsTaken { get; set; }
}
