namespace Companion.TestKit.Judging;

/// <summary>An invariant of section 3 of the design does not hold; the message begins with its number.</summary>
public sealed class InvariantBrokenException(string message) : Exception(message);
