namespace Companion.Papers.Drawing;

/// <summary>Something on a page, in points from its upper left corner.</summary>
internal abstract record Mark;

/// <summary>One line of text, its baseline at <paramref name="Y"/>.</summary>
internal sealed record TextMark(float X, float Y, string Text, Lettering Lettering, bool White = false) : Mark;

/// <summary>A filled rectangle.</summary>
/// <param name="Grey">0 is black, 255 white.</param>
internal sealed record BoxMark(float X, float Y, float Width, float Height, byte Grey = 0) : Mark;

/// <summary>An empty rectangle with lines of a thickness inside it.</summary>
internal sealed record FrameMark(float X, float Y, float Width, float Height, float Thickness) : Mark;

/// <summary>A QR code with its quiet zone.</summary>
internal sealed record CodeMark(float X, float Y, float Side, QrSquare Square) : Mark;

/// <summary>How letters look.</summary>
/// <param name="Size">In points.</param>
/// <param name="Bold">Bold or regular.</param>
internal readonly record struct Lettering(float Size, bool Bold = false)
{
    /// <summary>From baseline to baseline.</summary>
    public float Leading => Size * 1.32f;

    /// <summary>From the top of a line to its baseline.</summary>
    public float Ascent => Size;
}

/// <summary>A page with what is on it.</summary>
internal sealed class DraftPage
{
    /// <summary>What is on it, in drawing order.</summary>
    public List<Mark> Marks { get; } = [];
}
