namespace Companion.Journal.Tests.Support;

/// <summary>The power went.</summary>
public sealed class PowerCutException() : IOException("The power was cut.");
