using System.Globalization;
using Companion.Domain.Events;

namespace Companion.Papers.Words;

/// <summary>Small words that every paper needs. Pure.</summary>
internal static class PaperText
{
    /// <summary>What stands for a text that was erased, or that whoever made the paper may not see.</summary>
    public const string NotHere = "not on this paper";

    /// <summary>A time of the record: date and minute, as the tablet's clock had it.</summary>
    public static string Time(DateTimeOffset at) => at.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    /// <summary>The day.</summary>
    public static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>The time of day.</summary>
    public static string Minute(DateTimeOffset at) => at.ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>The time of day with seconds.</summary>
    public static string Second(DateTimeOffset at) => at.ToString("HH:mm:ss", CultureInfo.InvariantCulture);

    /// <summary>The offset from UTC that times are written in.</summary>
    public static string Offset(DateTimeOffset at) => $"UTC{at.ToString("zzz", CultureInfo.InvariantCulture)}";

    /// <summary>A personal text as far as it is there.</summary>
    public static string Personal(Personal? text, string unsaid) => text switch
    {
        null => unsaid,
        { Text: null or "" } => NotHere,
        { Text: var words } => words,
    };

    /// <summary>With a capital at its beginning; empty stays empty.</summary>
    public static string Sentence(string text) => text.Length == 0 ? text : $"{char.ToUpperInvariant(text[0])}{text[1..]}";

    /// <summary>Ended by exactly one full stop, whatever stood there.</summary>
    public static string Stopped(string text) => $"{text.TrimEnd('.', ' ')}.";

    /// <summary>A person by crew number: what the record keeps when the name is gone.</summary>
    public static string Crew(string id) => id.StartsWith("crew", StringComparison.OrdinalIgnoreCase) ? id : $"crew {id}";

    /// <summary>A temperature of tenths of a degree Celsius.</summary>
    public static string Degrees(int tenths) => $"{(tenths / 10m).ToString("0.0", CultureInfo.InvariantCulture)} °C";

    /// <summary>A whole number as every reader writes it.</summary>
    public static string Number(long number) => number.ToString(CultureInfo.InvariantCulture);
}
