namespace Companion.Watchroom.Telling;

/// <summary>A way to tell somebody. Completes when the other side has taken it; throws <see cref="NotToldException"/> when it has not.</summary>
internal interface IChannel
{
    /// <summary>Tells, once.</summary>
    Task TellAsync(Telling telling, RingRound round, CancellationToken cancellation);
}

/// <summary>Somebody was not told; the message says why.</summary>
internal sealed class NotToldException(string message, Exception? cause = null) : Exception(message, cause);
