namespace Companion.Papers.Drawing;

/// <summary>A page: lengths in points, 1/72 inch.</summary>
/// <param name="Width">Its width.</param>
/// <param name="Height">Its height.</param>
/// <param name="Margin">What stays white at every edge; most printers reach to 4 mm.</param>
internal sealed record PageShape(float Width, float Height, float Margin)
{
    /// <summary>ISO 216 A4, 210 x 297 mm.</summary>
    public static readonly PageShape A4 = new(Points(210), Points(297), Points(15));

    /// <summary>The label, 100 x 150 mm.</summary>
    public static readonly PageShape Label = new(Points(100), Points(150), Points(5));

    /// <summary>The width between the margins.</summary>
    public float Inner => Width - (2 * Margin);

    /// <summary>Millimetres in points.</summary>
    public static float Points(float millimetres) => millimetres * 72 / 25.4f;
}
