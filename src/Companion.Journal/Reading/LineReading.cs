using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Proof;

namespace Companion.Journal.Reading;

/// <summary>A line of an export, or of what a watch room holds, read as far as it can be, for people who look back. Nothing is repaired.</summary>
/// <param name="Entry">The entry: its hash checked, or, of a later version of the format, without its data. Null when there is none.</param>
/// <param name="Fault">Why there is none; empty when there is.</param>
public sealed record LineReading(JournalEntry? Entry, string Fault)
{
    /// <summary>Reads a line.</summary>
    public static LineReading Of(ReadOnlyMemory<byte> line)
    {
        try
        {
            return new LineReading(ExportLine.Parse(line), string.Empty);
        }
        catch (FormatException cause)
        {
            return NewerEntry.Read(line) is { } newer ? new LineReading(newer, string.Empty) : new LineReading(null, cause.Message);
        }
    }
}
