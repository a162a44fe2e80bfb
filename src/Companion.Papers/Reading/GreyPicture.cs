namespace Companion.Papers.Reading;

/// <summary>A picture without colours: one byte a point, 0 is black. Immutable by habit.</summary>
/// <param name="Points">Row by row, from the top.</param>
/// <param name="Width">Points in a row.</param>
/// <param name="Height">Rows.</param>
internal sealed record GreyPicture(byte[] Points, int Width, int Height)
{
    private const int White = 255;

    /// <summary>Luma weights of ITU-R BT.601, in 256ths.</summary>
    private const int Red = 77;
    private const int Green = 150;
    private const int Blue = 29;

    /// <summary>The picture of points with red, green, blue and cover, four bytes each, before a white ground; halved until neither side is longer than asked for.</summary>
    public static GreyPicture Of(ReadOnlySpan<byte> coloured, int width, int height, int longest)
    {
        var points = new byte[width * height];
        for (var at = 0; at < points.Length; at++)
        {
            var colour = coloured.Slice(at * 4, 4);
            var luma = ((Red * colour[0]) + (Green * colour[1]) + (Blue * colour[2])) >> 8;
            points[at] = (byte)(((luma * colour[3]) + (White * (White - colour[3]))) / White);
        }

        var picture = new GreyPicture(points, width, height);
        while (Math.Max(picture.Width, picture.Height) > longest)
        {
            picture = picture.Half();
        }

        return picture;
    }

    /// <summary>At half its size, four points made one.</summary>
    public GreyPicture Half()
    {
        var (width, height) = (Math.Max(1, Width / 2), Math.Max(1, Height / 2));
        var half = new byte[width * height];
        for (var y = 0; y < height; y++)
        {
            var (upper, lower) = (2 * y * Width, Math.Min((2 * y) + 1, Height - 1) * Width);
            for (var x = 0; x < width; x++)
            {
                var (left, right) = (2 * x, Math.Min((2 * x) + 1, Width - 1));
                half[(y * width) + x] = (byte)((Points[upper + left] + Points[upper + right] + Points[lower + left] + Points[lower + right] + 2) / 4);
            }
        }

        return new GreyPicture(half, width, height);
    }
}
