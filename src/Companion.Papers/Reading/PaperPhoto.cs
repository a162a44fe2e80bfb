using SkiaSharp;
using ZXing;
using ZXing.Common;

namespace Companion.Papers.Reading;

/// <summary>
/// Reads the square code on a photograph that anybody may have sent. Its size in picture points is read from its head before anything is
/// unpacked: a small file can claim to be a picture of any size. Nothing is kept. Any thread.
/// </summary>
public static class PaperPhoto
{
    /// <summary>Most bytes of a photograph: 8 MB, above what telephones of 50 million points send.</summary>
    public const int MostBytes = 8 * 1024 * 1024;

    /// <summary>Most picture points that a photograph may claim.</summary>
    public const long MostPoints = 52_000_000;

    /// <summary>Most picture points that are unpacked, 64 MB of memory: larger JPEG pictures are unpacked smaller, other kinds cannot be.</summary>
    public const long MostUnpacked = 16_000_000;

    /// <summary>A code of 97 modules on a tenth of the picture's width has more than two points a module at this width.</summary>
    private const int Enough = 2400;

    private static readonly SKEncodedImageFormat[] Kinds = [SKEncodedImageFormat.Jpeg, SKEncodedImageFormat.Png, SKEncodedImageFormat.Webp];

    /// <summary>Reads it. Total: whatever the bytes are.</summary>
    public static PhotoReading Read(ReadOnlySpan<byte> photo)
    {
        using var data = SKData.CreateCopy(photo);
        using var codec = SKCodec.Create(data);
        if (codec is null || !Kinds.Contains(codec.EncodedFormat))
        {
            return PhotoReading.Of(PhotoFault.NoPicture);
        }

        var size = SizeOf(codec);
        return Points(codec.Info.Size) > MostPoints || Points(size) > MostUnpacked ? PhotoReading.Of(PhotoFault.TooManyPoints)
            : Unpack(codec, size) is not { } grey ? PhotoReading.Of(PhotoFault.NoPicture)
            : Code(grey) is { } text ? new PhotoReading(text, PhotoFault.None)
            : PhotoReading.Of(PhotoFault.NoCode);
    }

    private static long Points(SKSizeI size) => (long)size.Width * size.Height;

    /// <summary>The size at which it is unpacked: no larger than needed, as far as its kind allows.</summary>
    private static SKSizeI SizeOf(SKCodec codec)
    {
        var longest = Math.Max(codec.Info.Width, codec.Info.Height);
        return longest <= Enough ? codec.Info.Size : codec.GetScaledDimensions((float)Enough / longest);
    }

    private static GreyPicture? Unpack(SKCodec codec, SKSizeI size)
    {
        var form = new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Unpremul);
        using var picture = new SKBitmap();
        if (!picture.TryAllocPixels(form))
        {
            return null;
        }

        // A photograph that was cut off on its way may still show the code.
        return codec.GetPixels(form, picture.GetPixels()) is SKCodecResult.Success or SKCodecResult.IncompleteInput
            ? GreyPicture.Of(picture.GetPixelSpan(), size.Width, size.Height, Enough)
            : null;
    }

    /// <summary>
    /// Looked at in its own size first; a noisy or blurred photograph is clearer at half of it. Each is turned as well: from one side,
    /// about one clean code in a hundred has modules that the reader takes for a corner of it.
    /// </summary>
    private static string? Code(GreyPicture picture) => Decode(picture) ?? Decode(picture.Half());

    private static string? Decode(GreyPicture picture)
    {
        var reader = new BarcodeReaderGeneric
        {
            AutoRotate = true,
            Options = new DecodingOptions { TryHarder = true, PossibleFormats = [BarcodeFormat.QR_CODE], CharacterSet = "UTF-8" },
        };
        try
        {
            return reader.Decode(new RGBLuminanceSource(picture.Points, picture.Width, picture.Height, RGBLuminanceSource.BitmapFormat.Gray8))?.Text;
        }
        catch (Exception fault) when (fault is IndexOutOfRangeException or ArgumentException or ArithmeticException or InvalidOperationException)
        {
            // Bits that only look like a code can lead the decoder astray; that is no code.
            return null;
        }
    }
}
