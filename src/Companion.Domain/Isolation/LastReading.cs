using Companion.Domain.Events;

namespace Companion.Domain.Isolation;

/// <summary>The last reading of a pair, whatever it was for.</summary>
/// <param name="Taken">The reading.</param>
/// <param name="Wall">Wall clock when it was taken.</param>
public sealed record LastReading(ReadingTaken Taken, DateTimeOffset Wall);
