using System.Globalization;
using System.Text.Json;
using Companion.Contracts;

namespace Companion.Watchroom.Watching;

/// <summary>
/// The watch room's events as journal entries, and back. Names, places, notes and the kind of an alert stay erasable; where one was erased
/// the fold still knows which alert it was, and takes its kind for the loudest. Pure; any thread.
/// </summary>
internal sealed class WatchEntries(string bootId)
{
    /// <summary>The watch room's own chain.</summary>
    public const string Chain = "watch";

    private const string TimeForm = "O";

    /// <summary>What is journalled of an event.</summary>
    public EntryDraft Draft(WatchEvent happened, long uptime)
    {
        var (type, data, texts) = happened switch
        {
            WatchEvent.Opened e => ("watch.opened", Data(e.Watch, []), Texts(("technician", e.Technician), ("place", e.Place), ("phase", e.Phase))),
            WatchEvent.CheckedIn e => ("watch.checkin", Data(e.Watch, new()
            {
                ["sequence"] = e.Sequence,
                ["agemilliseconds"] = e.AgeMilliseconds,
                ["checkedinat"] = Text(e.CheckedInAt),
                ["due"] = Text(e.Due),
                ["overduefrom"] = Text(e.OverdueFrom),
                ["epoch"] = e.Epoch,
            }), Texts()),
            WatchEvent.Shortened e => ("watch.shortened", Data(e.Watch, new() { ["due"] = Text(e.Due), ["overduefrom"] = Text(e.OverdueFrom) }), Texts()),
            WatchEvent.Alerted e => ("watch.alerted", Data(e.Watch, new() { ["alert"] = e.Alert.Id, ["cause"] = Name(e.Cause) }), Texts(
                ("kind", Name(e.Alert.Kind)), ("technician", e.Alert.Technician), ("place", e.Alert.Place), ("detail", e.Alert.Detail))),
            WatchEvent.Called e => ("watch.called", Data(e.Watch, new() { ["call"] = e.Call, ["alert"] = e.Alert }), Texts()),
            WatchEvent.Answered e => ("watch.taken", new Dictionary<string, object> { ["alert"] = e.Alert }, Texts(("person", e.Person), ("note", e.Note))),
            WatchEvent.Ended e => ("watch.ended", Data(e.Watch, new() { ["by"] = e.Person is null ? "tablet" : "person" }), Texts(("person", e.Person), ("reason", e.Reason))),
            WatchEvent.Blinded e => ("watch.blind", new() { ["from"] = Text(e.From), ["graceuntil"] = Text(e.GraceUntil), ["setback"] = e.SetBack }, Texts()),
            _ => throw new InvalidOperationException($"{happened.GetType().Name} has no entry."),
        };
        return new EntryDraft(Chain, type, happened.At, bootId, uptime, JsonSerializer.Serialize(data), texts);
    }

    /// <summary>The event of an entry; null for one that the fold has no use for.</summary>
    public static WatchEvent? Event(JournalEntry entry)
    {
        using var document = JsonDocument.Parse(entry.Data);
        var data = document.RootElement;
        return entry.Type switch
        {
            "watch.opened" => new WatchEvent.Opened(entry.Time, Watch(data), Personal(entry, "technician"), Personal(entry, "place"), Personal(entry, "phase")),
            "watch.checkin" => new WatchEvent.CheckedIn(
                entry.Time, Watch(data), data.GetProperty("sequence").GetInt64(), data.GetProperty("agemilliseconds").GetInt64(),
                Time(data, "checkedinat"), Time(data, "due"), Time(data, "overduefrom"), data.GetProperty("epoch").GetInt64()),
            "watch.shortened" => new WatchEvent.Shortened(entry.Time, Watch(data), Time(data, "due"), Time(data, "overduefrom")),
            "watch.alerted" => Alerted(entry, data),
            "watch.called" => new WatchEvent.Called(entry.Time, Watch(data), Word(data, "call"), Word(data, "alert")),
            "watch.taken" => new WatchEvent.Answered(entry.Time, Word(data, "alert"), Personal(entry, "person") ?? "", Personal(entry, "note") ?? ""),
            "watch.ended" => new WatchEvent.Ended(
                entry.Time, Watch(data), Word(data, "by") == "person" ? Personal(entry, "person") ?? "" : null, Personal(entry, "reason") ?? ""),
            "watch.blind" => new WatchEvent.Blinded(
                entry.Time, Time(data, "from"), Time(data, "graceuntil"),
                data.TryGetProperty("setback", out var setBack) ? setBack.GetBoolean() : Time(data, "from") > entry.Time),
            _ => null,
        };
    }

    private static WatchEvent.Alerted Alerted(JournalEntry entry, JsonElement data)
    {
        var watch = Watch(data);
        var cause = Enum.Parse<AlertCause>(Word(data, "cause"), ignoreCase: true);
        var kind = Personal(entry, "kind") is { } name ? Enum.Parse<AlertKind>(name, ignoreCase: true)
            : cause switch { AlertCause.CheckIn => AlertKind.Overdue, AlertCause.Silence => AlertKind.SilentLink, _ => AlertKind.Help };
        var alert = new Alert(
            Word(data, "alert"), kind, watch.Device, watch.Job, Personal(entry, "technician") ?? "", Personal(entry, "place"), entry.Time,
            Personal(entry, "detail") ?? "", Taken: null)
        {
            Rehearsal = watch.Rehearsal,
        };
        return new WatchEvent.Alerted(entry.Time, watch, cause, alert);
    }

    private static Dictionary<string, object> Data(WatchId watch, Dictionary<string, object> more)
    {
        more["device"] = watch.Device;
        more["job"] = watch.Job;
        more["rehearsal"] = watch.Rehearsal;
        return more;
    }

    private static Dictionary<string, string> Texts(params ReadOnlySpan<(string Name, string? Text)> texts)
    {
        var known = new Dictionary<string, string>();
        foreach (var (name, text) in texts)
        {
            if (text is not null)
            {
                known.Add(name, text);
            }
        }

        return known;
    }

    private static WatchId Watch(JsonElement data) => new(Word(data, "device"), Word(data, "job"), data.GetProperty("rehearsal").GetBoolean());

    private static string Word(JsonElement data, string name) => data.GetProperty(name).GetString()!;

    private static string? Personal(JournalEntry entry, string name) => entry.Sealed.TryGetValue(name, out var sealedText) ? sealedText.Text : null;

    private static string Name<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();

    private static string Text(DateTimeOffset time) => time.ToString(TimeForm, CultureInfo.InvariantCulture);

    private static DateTimeOffset Time(JsonElement data, string name) =>
        DateTimeOffset.ParseExact(Word(data, name), TimeForm, CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind);
}
