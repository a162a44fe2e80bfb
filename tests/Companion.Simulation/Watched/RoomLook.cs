using Companion.Watchroom.Watching;

namespace Companion.Simulation.Watched;

/// <summary>What anybody sees of the watch room at one time.</summary>
/// <param name="Now">The time, by its clock.</param>
/// <param name="View">Its board.</param>
/// <param name="Fault">Why it records nothing, in its words; null while all is well.</param>
/// <param name="HasAiled">True when something has ailed its disk since it started.</param>
internal sealed record RoomLook(DateTimeOffset Now, WatchView View, string? Fault, bool HasAiled);
