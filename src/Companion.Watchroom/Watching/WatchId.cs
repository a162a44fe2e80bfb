namespace Companion.Watchroom.Watching;

/// <summary>What is watched: a job at a tablet. A rehearsal of the same name is another watch, so that it can move nothing real (I20).</summary>
/// <param name="Device">The tablet.</param>
/// <param name="Job">The job.</param>
/// <param name="Rehearsal">True for a rehearsal.</param>
internal readonly record struct WatchId(string Device, string Job, bool Rehearsal);
