using System.Globalization;
using Companion.Journal.Frames;

namespace Companion.Journal.Reading;

/// <summary>Reads an exported file as far as it can be. Pure; any thread.</summary>
public static class ExportReading
{
    private const byte LineFeed = (byte)'\n';

    /// <summary>Everything in it, and whether its last line was cut.</summary>
    public static LooseReading Of(ReadOnlyMemory<byte> file)
    {
        var reading = new LooseReading();
        var number = 0L;
        foreach (var line in EntryBatch.Split(file).Where(line => !line.IsEmpty))
        {
            reading.Take(line, string.Create(CultureInfo.InvariantCulture, $"Line {++number}"));
        }

        if (!file.IsEmpty && file.Span[^1] != LineFeed)
        {
            reading.Tell(string.Create(CultureInfo.InvariantCulture, $"Line {number}, the last one, has no end: the file was cut off there."));
        }

        return reading;
    }
}
