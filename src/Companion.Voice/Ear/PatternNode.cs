namespace Companion.Voice.Ear;

/// <summary>A parsed phrase pattern, as a tree.</summary>
public abstract record PatternNode
{
    /// <summary>One word.</summary>
    public sealed record Word(string Text) : PatternNode;

    /// <summary>Parts one after another.</summary>
    public sealed record Sequence(IReadOnlyList<PatternNode> Parts) : PatternNode;

    /// <summary>Exactly one of the parts.</summary>
    public sealed record Choice(IReadOnlyList<PatternNode> Parts) : PatternNode;

    /// <summary>The part or nothing.</summary>
    public sealed record Optional(PatternNode Part) : PatternNode;

    /// <summary>The part once or more often.</summary>
    public sealed record Repeated(PatternNode Part) : PatternNode;
}
