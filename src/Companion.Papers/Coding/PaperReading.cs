namespace Companion.Papers.Coding;

/// <summary>What became of a code that was read: a statement that its tablet signed, or the reason why it is none.</summary>
public sealed record PaperReading
{
    private PaperReading(PaperStatement? statement, string? reason) => (Statement, Reason) = (statement, reason);

    /// <summary>What the tablet signed; null when refused. That it was signed does not say that it is still so.</summary>
    public PaperStatement? Statement { get; }

    /// <summary>Why it is refused, in words that somebody can act on; null when accepted.</summary>
    public string? Reason { get; }

    internal static PaperReading Accepted(PaperStatement statement) => new(statement, null);

    internal static PaperReading Refused(string reason) => new(null, reason);
}
