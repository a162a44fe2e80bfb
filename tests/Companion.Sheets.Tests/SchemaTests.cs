using System.Text.Json;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Engine.Codec;
using Json.Schema;

namespace Companion.Sheets.Tests;

public sealed class SchemaTests
{
    public static TheoryData<string> Schemas() => ["shutdown-sheet", "kit", "crew"];

    [Theory]
    [MemberData(nameof(Schemas))]
    public void The_schema_is_itself_valid(string name)
    {
        var results = MetaSchemas.Draft202012.Evaluate(Element(name)); // JSON Schema 2020-12 meta-schema, published
        Assert.True(results.IsValid);
    }

    [Theory]
    [MemberData(nameof(Schemas))]
    public void Every_place_of_the_schema_describes_itself_so_that_a_mend_can_be_given(string name) => Described(Element(name), "");

    [Theory]
    [InlineData(typeof(PointKind), "properties/points/items/properties/kind")]
    [InlineData(typeof(StepKind), "$defs/steps/items/properties/kind")]
    [InlineData(typeof(VoltageKind), "$defs/testplace/properties/pairs/items/properties/kind")]
    [InlineData(typeof(PairRole), "$defs/testplace/properties/pairs/items/properties/role")]
    public void The_sheet_schema_names_every_value_that_the_records_know(Type kinds, string path)
    {
        var at = path.Split('/').Aggregate(Element("shutdown-sheet"), (place, step) => place.GetProperty(step));
        Assert.Equal(Enum.GetNames(kinds).Select(one => one.ToLowerInvariant()), at.GetProperty("enum").EnumerateArray().Select(one => one.GetString()!));
    }

    [Fact]
    public void The_sheet_schema_names_every_disturbance_but_the_unwatched_one_which_no_sheet_may_narrow()
    {
        var named = Element("shutdown-sheet").GetProperty("properties").GetProperty("disturbances").GetProperty("items").GetProperty("properties").GetProperty("what");
        var known = Enum.GetValues<Disturbance>().Where(one => one != Disturbance.Unwatched).Select(JsonReading.NameOf);
        Assert.Equal(known, named.GetProperty("enum").EnumerateArray().Select(one => one.GetString()!));
    }

    private static JsonElement Element(string name) =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "schemas", name + ".schema.json"))).RootElement;

    private static void Described(JsonElement at, string path)
    {
        Assert.True(at.TryGetProperty("$ref", out _) || at.TryGetProperty("description", out _), path);
        foreach (var property in at.TryGetProperty("properties", out var properties) ? properties.EnumerateObject().ToList() : [])
        {
            Described(property.Value, $"{path}/{property.Name}");
        }

        if (at.TryGetProperty("items", out var items))
        {
            Described(items, $"{path}/items");
        }

        foreach (var shared in at.TryGetProperty("$defs", out var defs) ? defs.EnumerateObject().ToList() : [])
        {
            Described(shared.Value, $"{path}/{shared.Name}");
        }
    }
}
