using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Companion.Domain;
using Companion.Domain.Electrical;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Engine.Codec;

/// <summary>How event data is written: lower-case names, ids and enumerations as text, voltages and clock readings as text.</summary>
public static class EventJson
{
    /// <summary>The options of the codec.</summary>
    public static readonly JsonSerializerOptions Options = Build();

    /// <summary>The name of a member in the journal.</summary>
    public static string NameOf(string member) => member.ToLowerInvariant();

    private static JsonSerializerOptions Build()
    {
        var options = new JsonSerializerOptions
        {
            PropertyNamingPolicy = new LowerCase(),
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        };
        options.Converters.Add(new JsonStringEnumConverter(new LowerCase(), false));
        options.Converters.Add(new TextIdConverter());
        options.Converters.Add(new VoltsConverter());
        options.Converters.Add(new TicksConverter());
        options.Converters.Add(new SheetConverter());
        options.MakeReadOnly(true);
        return options;
    }

    private sealed class LowerCase : JsonNamingPolicy
    {
        public override string ConvertName(string name) => NameOf(name);
    }

    private sealed class VoltsConverter : JsonConverter<Volts>
    {
        public override Volts Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
            Volts.TryParse(reader.GetString()) ?? throw new JsonException("A voltage is expected.");

        public override void Write(Utf8JsonWriter writer, Volts value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToString());
    }

    private sealed class TicksConverter : JsonConverter<Ticks>
    {
        public override Ticks Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
            new(long.Parse(reader.GetString()!, CultureInfo.InvariantCulture));

        public override void Write(Utf8JsonWriter writer, Ticks value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.Nanoseconds.ToString(CultureInfo.InvariantCulture));
    }

    private sealed class SheetConverter : JsonConverter<Sheet>
    {
        public override Sheet Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
            SheetJson.Read((JsonObject)JsonNode.Parse(ref reader)!);

        public override void Write(Utf8JsonWriter writer, Sheet value, JsonSerializerOptions options) =>
            SheetJson.Write(value).WriteTo(writer);
    }

    private sealed class TextIdConverter : JsonConverterFactory
    {
        public override bool CanConvert(Type type) => type.IsAssignableTo(typeof(ITextId)) && type.IsValueType;

        public override JsonConverter CreateConverter(Type type, JsonSerializerOptions options) =>
            (JsonConverter)Activator.CreateInstance(typeof(IdConverter<>).MakeGenericType(type))!;
    }

    private sealed class IdConverter<T> : JsonConverter<T>
        where T : struct, ITextId
    {
        public override T Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
            (T)Activator.CreateInstance(typeof(T), reader.GetString())!;

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(value.Value);
    }
}
