namespace Companion.Uplink;

/// <summary>Nothing that was sent counts as held over there.</summary>
internal class NotAcknowledgedException(string message, Exception? cause = null) : Exception(message, cause);

/// <summary>The watch room answers, and does not take this chain now.</summary>
internal class ChainNotTakenException(string message) : NotAcknowledgedException(message);

/// <summary>The watch room says that it holds this chain beyond what was sent, with entries that are not ours.</summary>
internal sealed class HoldsMoreException(string message, long after) : ChainNotTakenException(message)
{
    /// <summary>Up to here it was sent.</summary>
    public long After => after;
}
