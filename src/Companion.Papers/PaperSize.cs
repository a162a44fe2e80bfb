namespace Companion.Papers;

/// <summary>A sheet of paper, in millimetres.</summary>
/// <param name="WidthMillimetres">Its width.</param>
/// <param name="HeightMillimetres">Its height.</param>
public sealed record PaperSize(int WidthMillimetres, int HeightMillimetres)
{
    /// <summary>ISO 216 A4.</summary>
    public static readonly PaperSize A4 = new(210, 297);

    /// <summary>The label for the vehicle.</summary>
    public static readonly PaperSize Label = new(100, 150);
}
