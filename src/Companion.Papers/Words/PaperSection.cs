using System.Collections.Immutable;

namespace Companion.Papers.Words;

/// <summary>A part of a paper.</summary>
/// <param name="Heading">What it is about.</param>
/// <param name="Rows">Its rows and paragraphs, never empty.</param>
/// <param name="Emphasis">How loud it is.</param>
public sealed record PaperSection(string Heading, ImmutableArray<PaperRow> Rows, PaperEmphasis Emphasis = PaperEmphasis.Plain);

/// <summary>A row of a section.</summary>
/// <param name="Label">What the text is about, at its left; null for a paragraph.</param>
/// <param name="Text">The text.</param>
/// <param name="Under">True when it belongs to the row before it and is set in.</param>
public sealed record PaperRow(string? Label, string Text, bool Under = false)
{
    /// <summary>A paragraph.</summary>
    public static PaperRow Of(string text) => new(null, text);
}

/// <summary>How loud a section is. Black on white and grey must be enough for each.</summary>
public enum PaperEmphasis
{
    /// <summary>As the rest.</summary>
    Plain,

    /// <summary>Set off: what is asked for first.</summary>
    Strong,

    /// <summary>A warning: it must be seen before anything else is read.</summary>
    Warning,
}
