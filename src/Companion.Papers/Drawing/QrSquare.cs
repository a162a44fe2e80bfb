using QRCoder;

namespace Companion.Papers.Drawing;

/// <summary>The modules of a QR code at error correction M, its quiet zone of four modules among them (ISO/IEC 18004). Immutable.</summary>
public sealed class QrSquare
{
    private readonly QRCodeData _data;

    private QrSquare(QRCodeData data) => _data = data;

    /// <summary>Modules along a side.</summary>
    public int Modules => _data.ModuleMatrix.Count;

    /// <summary>The version, 1 to 40.</summary>
    public int Version => _data.Version;

    /// <summary>The code of a text.</summary>
    public static QrSquare Of(string text) => new(QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M, forceUtf8: text.Any(letter => letter > 127)));

    /// <summary>The dark modules, row by row, neighbours in one: drawn so, no light seam shows between them.</summary>
    public IEnumerable<(int Row, int Column, int Length)> Runs()
    {
        for (var row = 0; row < Modules; row++)
        {
            for (var column = 0; column < Modules;)
            {
                var length = 0;
                while (column + length < Modules && _data.ModuleMatrix[row][column + length])
                {
                    length++;
                }

                if (length > 0)
                {
                    yield return (row, column, length);
                }

                column += Math.Max(1, length);
            }
        }
    }
}
