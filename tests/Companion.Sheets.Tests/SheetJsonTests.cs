using System.Text.Json.Nodes;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Engine.Codec;
using CsCheck;

namespace Companion.Sheets.Tests;

public sealed class SheetJsonTests
{
    private static readonly Gen<string> Ids = Gen.String[Gen.Char['a', 'z'], 1, 6];

    private static readonly Gen<Volts> Voltages = Gen.Long[0, 9_999_999].Select(millivolts => new Volts(millivolts));

    private static readonly Gen<Step> Steps = Gen.Select(Ids, Gen.Enum<StepKind>(), Gen.String, Gen.Bool, Gen.Int[0, 7], (id, kind, say, exposes, named) => new Step
    {
        Id = new(id),
        Kind = kind,
        Say = say,
        Exposes = exposes,
        Point = (named & 1) != 0 ? new(id) : null,
        Wait = (named & 2) != 0 ? new(id) : null,
        TestPlace = (named & 4) != 0 ? new(id) : null,
    });

    private static readonly Gen<IsolationPoint> Points = Gen.Select(Ids, Gen.String, Gen.Enum<PointKind>(), Ids.Array[0, 3], Gen.Bool,
        (id, name, kind, circuits, lockable) => new IsolationPoint(new(id), name, kind, [.. circuits.Select(circuit => new Domain.CircuitId(circuit))], lockable));

    private static readonly Gen<ProbePair> Pairs = Gen.Select(Ids, Gen.String, Gen.Enum<VoltageKind>(), Gen.Enum<PairRole>(),
        (id, name, kind, role) => new ProbePair(new(id), name, kind, role));

    private static readonly Gen<TestPlace> Places = Gen.Select(Ids, Ids.Array[0, 3], Pairs.Array[0, 4], Voltages, Voltages, Gen.Int[1, 3600],
        (id, circuits, pairs, dc, ac, window) => new TestPlace(
            new(id), id, [.. circuits.Select(circuit => new Domain.CircuitId(circuit))], [new(id)], [.. pairs], dc, ac, window));

    private static readonly Gen<Sheet> Sheets = Gen.Select(Steps.Array[0, 5], Points.Array[0, 4], Places.Array[0, 3], Voltages, Gen.Int[1, 99], Gen.Bool,
        (steps, points, places, floor, number, rehearsal) => Seeds.Sheet("tarnbeck-pipit") with
        {
            Number = number,
            RehearsalOnly = rehearsal,
            FloorVolts = floor,
            Points = [.. points],
            TestPlaces = [.. places],
            Steps = [.. steps],
            Disturbances = [new DisturbanceRule(Disturbance.WheelsTurned, [], [])],
        });

    [Fact]
    public void Writing_reading_and_writing_again_gives_the_same_text() => Sheets.Sample(sheet =>
    {
        var text = SheetJson.Write(sheet).ToJsonString();
        return SheetJson.Write(SheetJson.Read(JsonNode.Parse(text)!.AsObject())).ToJsonString() == text;
    });

    [Fact]
    public void Reading_back_gives_the_same_points_places_and_steps() => Sheets.Sample(sheet =>
    {
        var back = SheetJson.Read(SheetJson.Write(sheet));
        Assert.Equal(sheet.Steps.AsEnumerable(), back.Steps);
        Assert.Equal(sheet.Points.Select(point => (point.Id, point.Name, point.Kind, point.Lockable)), back.Points.Select(point => (point.Id, point.Name, point.Kind, point.Lockable)));
        Assert.Equal(sheet.Points.SelectMany(point => point.Circuits), back.Points.SelectMany(point => point.Circuits));
        Assert.Equal(sheet.TestPlaces.SelectMany(place => place.Pairs), back.TestPlaces.SelectMany(place => place.Pairs));
        Assert.Equal(sheet.TestPlaces.Select(place => (place.LimitDc, place.LimitAc, place.WindowSeconds)), back.TestPlaces.Select(place => (place.LimitDc, place.LimitAc, place.WindowSeconds)));
        Assert.Equal((sheet.Source, sheet.FloorVolts, sheet.RehearsalOnly), (back.Source, back.FloorVolts, back.RehearsalOnly));
    });

    [Fact]
    public void A_capacitance_is_written_only_where_the_sheet_names_one()
    {
        var sheet = Seeds.Sheet("tarnbeck-pipit");
        Assert.Equal(["id", "name"], Keys(SheetJson.Write(sheet)["circuits"]![0]!));
        var named = sheet with { Circuits = [sheet.Circuits[0] with { Microfarads = 680 }, sheet.Circuits[1]] };
        Assert.Equal(named.Circuits.AsEnumerable(), SheetJson.Read(SheetJson.Write(named)).Circuits);
    }

    [Fact]
    public void The_pinned_form_has_at_least_the_members_that_the_journal_format_names()
    {
        var json = SheetJson.Write(Seeds.Sheet("hollin-drover"));
        Assert.Equal(["id", "name", "kind", "circuits", "lockable"], Keys(json["points"]![0]!)); // the journal format, design section 5
        Assert.Equal(["id", "name", "circuit", "seconds"], Keys(json["waits"]![0]!)); // the same
        // the same
        Assert.Equal("""{"id":"rails","name":"positive to negative","kind":"dc","role":"railtorail"}""", json["testplaces"]![0]!["pairs"]![0]!.ToJsonString());
        Assert.Equal("\"30\"", json["testplaces"]![0]!["limitdc"]!.ToJsonString()); // the same: limits are text
        Assert.Equal("900", json["waits"]![2]!["seconds"]!.ToJsonString()); // the same: seconds are whole numbers
        Assert.Equal("830", json["highestvolts"]!.ToJsonString()); // the same
    }

    // What was pinned and signed before sheets had attachments must keep its digest.
    [Fact]
    public void A_document_is_written_only_where_there_is_one()
    {
        var sheet = Seeds.Sheet("fennick-siskin");
        Assert.Equal("fennick-siskin.pdf", SheetJson.Read(SheetJson.Write(sheet)).Source.Attachment);
        Assert.Equal(["document", "edition", "reviewby"], Keys(SheetJson.Write(Seeds.Sheet("tarnbeck-pipit"))["source"]!));
    }

    [Fact]
    public void Every_key_that_is_written_is_a_to_z_and_0_to_9() => Assert.All(AllKeys(SheetJson.Write(Seeds.Sheet("tarnbeck-pipit"))), key => Assert.Matches("^[a-z0-9]+$", key));

    [Theory]
    [InlineData("number", "'number' must be a whole number.")]
    [InlineData("floorvolts", "'floorvolts' must be text.")]
    [InlineData("source", "'source' must be an object.")]
    public void A_pinned_sheet_that_lacks_a_member_says_which(string name, string message)
    {
        var json = SheetJson.Write(Seeds.Sheet("tarnbeck-pipit"));
        json.Remove(name);
        Assert.Equal(message, Assert.Throws<FormatException>(() => SheetJson.Read(json)).Message);
    }

    private static IEnumerable<string> Keys(JsonNode node) => node.AsObject().Select(member => member.Key);

    private static IEnumerable<string> AllKeys(JsonNode? node) => node switch
    {
        JsonObject members => members.SelectMany(member => AllKeys(member.Value).Prepend(member.Key)),
        JsonArray items => items.SelectMany(AllKeys),
        _ => [],
    };
}
