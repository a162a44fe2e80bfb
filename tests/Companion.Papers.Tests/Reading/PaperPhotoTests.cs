using Companion.Papers.Drawing;
using Companion.Papers.Reading;
using Companion.TestKit;
using SkiaSharp;

namespace Companion.Papers.Tests.Reading;

/// <summary>Photographs as people take them, and as nobody takes them.</summary>
public sealed class PaperPhotoTests
{
    /// <summary>As long as a code with three test places.</summary>
    private static readonly string Text = "Companion paper A\n" + string.Concat(Enumerable.Repeat("place front bulkhead: proved dead 2026-03-01 09:30\n", 8));

    [Theory]
    [InlineData(1600, 1200, 0, SKEncodedImageFormat.Jpeg)]
    [InlineData(1600, 1200, 90, SKEncodedImageFormat.Jpeg)]
    [InlineData(1600, 1200, 191, SKEncodedImageFormat.Png)]
    [InlineData(4000, 3000, 5, SKEncodedImageFormat.Jpeg)]
    [InlineData(3200, 2400, -12, SKEncodedImageFormat.Webp)]
    [InlineData(3200, 2400, 33, SKEncodedImageFormat.Png)]
    public void A_code_is_read_however_the_telephone_was_held(int width, int height, int degrees, SKEncodedImageFormat format) =>
        Assert.Equal(new PhotoReading(Text, PhotoFault.None), PaperPhoto.Read(Photo(width, height, degrees, format)));

    // Signatures are random: of 3,000 clean codes drawn like this, these and about fifty more were missed by a reader that looked from one side only.
    [Theory]
    [InlineData(4)]
    [InlineData(161)]
    [InlineData(229)]
    [InlineData(530)]
    [InlineData(987)]
    [InlineData(1606)]
    [InlineData(2220)]
    [InlineData(2980)]
    public void A_code_is_read_whatever_its_signature_looks_like(int seed)
    {
        var signature = new byte[64];
        new Random(seed).NextBytes(signature);
        var text = "Companion paper A\n" + string.Concat(Enumerable.Repeat("place front bulkhead: proved dead 2026-03-01 09:30\n", 5)) + "sign " + Convert.ToBase64String(signature);
        using var bitmap = new SKBitmap(500, 500);
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(SKColors.White);
        canvas.Translate(60.3f, 60.3f);
        canvas.Scale(4.07f);
        using var ink = new SKPaint { IsAntialias = true };
        Draw(QrSquare.Of(text), canvas, ink);
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        Assert.Equal(new PhotoReading(text, PhotoFault.None), PaperPhoto.Read(data.ToArray()));
    }

    [Fact]
    public void A_photograph_without_a_code_says_so() => Assert.Equal(PhotoFault.NoCode, PaperPhoto.Read(Photo(300, 200, 0, SKEncodedImageFormat.Jpeg)).Fault);

    // The claim alone is refused, before anything is unpacked: 3.6 thousand million points would take 14 GB.
    [Fact]
    public void A_small_file_that_claims_to_be_a_huge_picture_is_not_unpacked() => Assert.Equal(PhotoFault.TooManyPoints, PaperPhoto.Read(HugePicture.Png()).Fault);

    [Fact]
    public void What_is_no_picture_or_only_the_beginning_of_one_breaks_nothing()
    {
        var photo = Photo(1600, 1200, 0, SKEncodedImageFormat.Jpeg);
        var random = new Random(5);
        Assert.Equal(PhotoFault.NoPicture, PaperPhoto.Read([]).Fault);
        for (var turn = 0; turn < 20; turn++)
        {
            var broken = photo[..random.Next(1, photo.Length)];
            for (var bit = 0; bit < turn; bit++)
            {
                broken[random.Next(broken.Length)] ^= (byte)(1 << random.Next(8));
            }

            var reading = PaperPhoto.Read(broken);
            Assert.True(reading.Text is null || reading.Text == Text, reading.Text);
        }
    }

    /// <summary>A grey code on grey ground, turned, as high as half the picture or more.</summary>
    private static byte[] Photo(int width, int height, int degrees, SKEncodedImageFormat format)
    {
        var square = QrSquare.Of(Text);
        using var bitmap = new SKBitmap(width, height);
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(new SKColor(196, 190, 180));
        canvas.Translate(width / 2f, height / 2f);
        canvas.RotateDegrees(degrees);
        canvas.Translate(-height * 0.3f, -height * 0.3f);
        canvas.Scale(height * 0.6f / square.Modules);
        using var ink = new SKPaint { Color = new SKColor(50, 48, 55) };
        Draw(square, canvas, ink);
        using var data = bitmap.Encode(format, 80);
        return data.ToArray();
    }

    /// <summary>One module is one unit of the canvas.</summary>
    private static void Draw(QrSquare square, SKCanvas canvas, SKPaint ink)
    {
        foreach (var (row, column, length) in square.Runs())
        {
            canvas.DrawRect(column, row, length, 1, ink);
        }
    }
}
