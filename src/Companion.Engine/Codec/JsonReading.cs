using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using Companion.Domain.Electrical;

namespace Companion.Engine.Codec;

/// <summary>
/// Takes members out of a JSON object by hand, strictly: a member that is missing or of another type is a <see cref="FormatException"/>
/// that names it. Enumerations are written in lower case; numbers are whole; volts with a fraction are text.
/// </summary>
public static class JsonReading
{
    /// <summary>A text member.</summary>
    public static string Text(this JsonObject json, string name) => json.TextOrNull(name) ?? throw Wrong(name, "text");

    /// <summary>A text member that may be left out.</summary>
    public static string? TextOrNull(this JsonObject json, string name) =>
        json[name] is not { } node ? null
        : node is JsonValue value && value.TryGetValue<string>(out var text) ? text
        : throw Wrong(name, "text");

    /// <summary>A whole number.</summary>
    public static int Whole(this JsonObject json, string name) =>
        json[name] is JsonValue value && TryWhole(value) is { } number ? number : throw Wrong(name, "a whole number");

    /// <summary>A whole number that may be left out.</summary>
    public static int? WholeOrNull(this JsonObject json, string name) => json[name] is null ? null : json.Whole(name);

    /// <summary>True or false; false when left out.</summary>
    public static bool Flag(this JsonObject json, string name) =>
        json[name] is not { } node ? false
        : node is JsonValue value && value.TryGetValue<bool>(out var flag) ? flag
        : throw Wrong(name, "true or false");

    /// <summary>A voltage written as text.</summary>
    public static Volts Voltage(this JsonObject json, string name) =>
        Volts.TryParse(json.Text(name)) ?? throw Wrong(name, "a voltage in text");

    /// <summary>A voltage written as text that may be left out.</summary>
    public static Volts? VoltageOrNull(this JsonObject json, string name) => json[name] is null ? null : json.Voltage(name);

    /// <summary>A day, year first.</summary>
    public static DateOnly Day(this JsonObject json, string name) =>
        DateOnly.TryParseExact(json.Text(name), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? day
            : throw Wrong(name, "a day such as 2027-08-31");

    /// <summary>A day that may be left out.</summary>
    public static DateOnly? DayOrNull(this JsonObject json, string name) => json[name] is null ? null : json.Day(name);

    /// <summary>A value of an enumeration, in lower case.</summary>
    public static T Name<T>(this JsonObject json, string name)
        where T : struct, Enum
    {
        var text = json.Text(name);
        foreach (var value in Enum.GetValues<T>())
        {
            if (NameOf(value) == text)
            {
                return value;
            }
        }

        throw Wrong(name, "one of " + string.Join(", ", Enum.GetValues<T>().Select(NameOf)));
    }

    /// <summary>How an enumeration value is written.</summary>
    public static string NameOf<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();

    /// <summary>An object member.</summary>
    public static JsonObject Object(this JsonObject json, string name) => json[name] as JsonObject ?? throw Wrong(name, "an object");

    /// <summary>A list of objects; empty when left out.</summary>
    public static ImmutableArray<T> Each<T>(this JsonObject json, string name, Func<JsonObject, T> read) =>
        [.. ListOf(json, name).Select(item => read(item as JsonObject ?? throw Wrong(name, "a list of objects")))];

    /// <summary>A list of texts; empty when left out.</summary>
    public static ImmutableArray<T> Texts<T>(this JsonObject json, string name, Func<string, T> read) =>
        [.. ListOf(json, name).Select(item =>
            item is JsonValue value && value.TryGetValue<string>(out var text) ? read(text) : throw Wrong(name, "a list of texts"))];

    private static JsonArray ListOf(JsonObject json, string name) =>
        json[name] is not { } node ? [] : node as JsonArray ?? throw Wrong(name, "a list");

    // A value built in memory holds the type it was built from; only a parsed one converts freely.
    private static int? TryWhole(JsonValue value) =>
        value.TryGetValue<int>(out var whole) ? whole
        : value.TryGetValue<long>(out var longer) && longer is >= int.MinValue and <= int.MaxValue ? (int)longer
        : null;

    private static FormatException Wrong(string name, string wanted) => new($"'{name}' must be {wanted}.");
}
