namespace Companion.Simulation.Disk;

/// <summary>The power went.</summary>
public sealed class PowerCutException() : IOException("The power was cut.");
