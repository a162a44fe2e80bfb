namespace Companion.Uplink;

/// <summary>The tablet's journal as the outbox sees it. Callable from any thread.</summary>
public interface IOutboxSource
{
    /// <summary>The chains, the tablet's own first, jobs in order of their first entry.</summary>
    IReadOnlyList<string> Chains();

    /// <summary>The entries of a chain from a sequence on, in order.</summary>
    IReadOnlyList<OutboxLine> Read(string chain, long fromSequence);
}

/// <summary>One entry as it is sent.</summary>
/// <param name="Sequence">Its sequence in its chain.</param>
/// <param name="Hash">Its hash.</param>
/// <param name="Line">The export line, without the newline.</param>
/// <param name="Recorded">When it was recorded, by the tablet's own clock.</param>
public sealed record OutboxLine(long Sequence, string Hash, ReadOnlyMemory<byte> Line, DateTimeOffset Recorded);
