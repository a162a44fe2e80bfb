using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using Companion.Domain;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.Engine.Codec;

/// <summary>
/// A shutdown sheet as the JSON object that files are checked against and that the journal pins: names a-z and 0-9, whole numbers, volts
/// with a fraction as text. Writing and reading again gives the same sheet.
/// </summary>
public static class SheetJson
{
    /// <summary>
    /// The sheet as JSON. Every member is written, lists also when empty, so that the same sheet always gives the same object. What a sheet
    /// need not name is left out where it does not: sheets pinned before such a member existed keep their form.
    /// </summary>
    public static JsonObject Write(Sheet sheet)
    {
        var json = Members(sheet);
        if (sheet.Moving is { } moving)
        {
            json["moving"] = moving;
        }

        return json;
    }

    /// <summary>The sheet that a JSON object describes.</summary>
    /// <exception cref="FormatException">A member is missing or is not what it must be; the message names it.</exception>
    public static Sheet Read(JsonObject json)
    {
        var source = json.Object("source");
        return new Sheet
        {
            Id = json.Text("id"),
            Number = json.Whole("number"),
            Edition = json.Whole("edition"),
            Vehicle = json.Text("vehicle"),
            Marking = json.Text("marking"),
            Source = new SheetSource(source.Text("document"), source.Text("edition"), source.Day("reviewby"))
            {
                Attachment = source.TextOrNull("attachment"),
            },
            Approver = json.Text("approver"),
            RehearsalOnly = json.Flag("rehearsalonly"),
            HighestVolts = json.Whole("highestvolts"),
            RetestMinutes = json.Whole("retestminutes"),
            FloorVolts = json.Voltage("floorvolts"),
            StaysLive = json.Text("stayslive"),
            Moving = json.TextOrNull("moving"),
            Circuits = json.Each("circuits", each => new Circuit(
                new(each.Text("id")), each.Text("name"), each.WholeOrNull("microfarads"))),
            Points = json.Each("points", ReadPoint),
            Waits = json.Each("waits", each => new WaitRule(
                new(each.Text("id")), each.Text("name"), new(each.Text("circuit")), each.Whole("seconds"))),
            TestPlaces = json.Each("testplaces", ReadPlace),
            Disturbances = json.Each("disturbances", each => new DisturbanceRule(
                each.Name<Disturbance>("what"), CircuitIds(each), PointIds(each))),
            Steps = json.Each("steps", ReadStep),
            Alternatives = json.Each("alternatives", each => new AlternativeWay(
                new(each.Text("id")), each.Text("name"), each.Texts("for", text => new StepId(text)), each.Each("steps", ReadStep))),
        };
    }

    private static JsonObject Members(Sheet sheet) => new()
    {
        ["id"] = sheet.Id,
        ["number"] = sheet.Number,
        ["edition"] = sheet.Edition,
        ["vehicle"] = sheet.Vehicle,
        ["marking"] = sheet.Marking,
        ["source"] = Source(sheet.Source),
        ["approver"] = sheet.Approver,
        ["rehearsalonly"] = sheet.RehearsalOnly,
        ["highestvolts"] = sheet.HighestVolts,
        ["retestminutes"] = sheet.RetestMinutes,
        ["floorvolts"] = sheet.FloorVolts.ToString(),
        ["stayslive"] = sheet.StaysLive,
        ["circuits"] = List(sheet.Circuits, Charged),
        ["points"] = List(sheet.Points, Point),
        ["waits"] = List(sheet.Waits, Wait),
        ["testplaces"] = List(sheet.TestPlaces, Place),
        ["disturbances"] = List(sheet.Disturbances, Disturbed),
        ["steps"] = List(sheet.Steps, StepOf),
        ["alternatives"] = List(sheet.Alternatives, Way),
    };

    private static IsolationPoint ReadPoint(JsonObject json) => new(
        new(json.Text("id")), json.Text("name"), json.Name<PointKind>("kind"), CircuitIds(json), json.Flag("lockable"));

    private static TestPlace ReadPlace(JsonObject json) => new(
        new(json.Text("id")),
        json.Text("name"),
        CircuitIds(json),
        PointIds(json),
        json.Each("pairs", each => new ProbePair(
            new(each.Text("id")), each.Text("name"), each.Name<VoltageKind>("kind"), each.Name<PairRole>("role"))),
        json.Voltage("limitdc"),
        json.Voltage("limitac"),
        json.Whole("windowseconds"));

    private static Step ReadStep(JsonObject json) => new()
    {
        Id = new(json.Text("id")),
        Kind = json.Name<StepKind>("kind"),
        Say = json.Text("say"),
        Point = json.TextOrNull("point") is { } point ? new PointId(point) : null,
        Wait = json.TextOrNull("wait") is { } wait ? new WaitId(wait) : null,
        TestPlace = json.TextOrNull("testplace") is { } place ? new TestPlaceId(place) : null,
        Exposes = json.Flag("exposes"),
    };

    private static ImmutableArray<CircuitId> CircuitIds(JsonObject json) => json.Texts("circuits", text => new CircuitId(text));

    private static ImmutableArray<PointId> PointIds(JsonObject json) => json.Texts("points", text => new PointId(text));

    private static JsonObject Source(SheetSource source)
    {
        var json = new JsonObject
        {
            ["document"] = source.Document,
            ["edition"] = source.Edition,
            ["reviewby"] = source.ReviewBy.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        };
        if (source.Attachment is { } attachment)
        {
            json["attachment"] = attachment;
        }

        return json;
    }

    private static JsonObject Charged(Circuit circuit)
    {
        var json = new JsonObject { ["id"] = circuit.Id.Value, ["name"] = circuit.Name };
        if (circuit.Microfarads is { } microfarads)
        {
            json["microfarads"] = microfarads;
        }

        return json;
    }

    private static JsonObject Point(IsolationPoint point) => new()
    {
        ["id"] = point.Id.Value,
        ["name"] = point.Name,
        ["kind"] = JsonReading.NameOf(point.Kind),
        ["circuits"] = Ids(point.Circuits),
        ["lockable"] = point.Lockable,
    };

    private static JsonObject Wait(WaitRule wait) => new()
    {
        ["id"] = wait.Id.Value,
        ["name"] = wait.Name,
        ["circuit"] = wait.Circuit.Value,
        ["seconds"] = wait.Seconds,
    };

    private static JsonObject Place(TestPlace place) => new()
    {
        ["id"] = place.Id.Value,
        ["name"] = place.Name,
        ["circuits"] = Ids(place.Circuits),
        ["points"] = Ids(place.Points),
        ["pairs"] = List(place.Pairs, pair => new JsonObject
        {
            ["id"] = pair.Id.Value,
            ["name"] = pair.Name,
            ["kind"] = JsonReading.NameOf(pair.Kind),
            ["role"] = JsonReading.NameOf(pair.Role),
        }),
        ["limitdc"] = place.LimitDc.ToString(),
        ["limitac"] = place.LimitAc.ToString(),
        ["windowseconds"] = place.WindowSeconds,
    };

    private static JsonObject Disturbed(DisturbanceRule rule) => new()
    {
        ["what"] = JsonReading.NameOf(rule.What),
        ["circuits"] = Ids(rule.Circuits),
        ["points"] = Ids(rule.Points),
    };

    private static JsonObject StepOf(Step step)
    {
        var json = new JsonObject
        {
            ["id"] = step.Id.Value,
            ["kind"] = JsonReading.NameOf(step.Kind),
            ["say"] = step.Say,
            ["exposes"] = step.Exposes,
        };
        AddId(json, "point", step.Point);
        AddId(json, "wait", step.Wait);
        AddId(json, "testplace", step.TestPlace);
        return json;
    }

    private static JsonObject Way(AlternativeWay way) => new()
    {
        ["id"] = way.Id.Value,
        ["name"] = way.Name,
        ["for"] = Ids(way.For),
        ["steps"] = List(way.Steps, StepOf),
    };

    private static void AddId<T>(JsonObject json, string name, T? id)
        where T : struct, ITextId
    {
        if (id is { } known)
        {
            json[name] = known.Value;
        }
    }

    private static JsonArray Ids<T>(ImmutableArray<T> ids)
        where T : ITextId =>
        ids.IsDefault ? [] : new JsonArray([.. ids.Select(id => (JsonNode)JsonValue.Create(id.Value))]);

    private static JsonArray List<T>(ImmutableArray<T> items, Func<T, JsonObject> write) =>
        items.IsDefault ? [] : new JsonArray([.. items.Select(item => (JsonNode)write(item))]);
}
