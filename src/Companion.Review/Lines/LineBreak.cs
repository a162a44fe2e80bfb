namespace Companion.Review.Lines;

/// <summary>A time in which nothing was counted for waits: the process was down or the tablet slept.</summary>
/// <param name="From">Nanoseconds since the chain's first entry.</param>
/// <param name="To">Its end.</param>
/// <param name="Words">What it was.</param>
public sealed record LineBreak(long From, long To, string Words);
