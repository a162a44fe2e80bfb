using Companion.Journal.Format;

namespace Companion.Journal.Linking;

/// <summary>The end of a chain.</summary>
/// <param name="Sequence">Number of the last entry; 0 for a chain without any.</param>
/// <param name="Hash">Hash of the last entry.</param>
public readonly record struct ChainHead(long Sequence, string Hash)
{
    /// <summary>A chain without entries.</summary>
    public static readonly ChainHead Empty = new(0, ChainHash.None);
}
