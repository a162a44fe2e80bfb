using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Heads;

namespace Companion.Checker.Tests.Support;

/// <summary>
/// An honest export whose entries can be changed, moved, left out and made up, then written again with a chain and signatures that are
/// right, by a key of the forger's own: nothing but the rules of the job can object to it.
/// </summary>
public sealed class Forgery
{
    private const string Chain = "job-1";
    private static readonly Dictionary<string, string> NoTexts = [];

    private readonly List<Line> _tablet;
    private readonly List<Line> _job;
    private readonly Dictionary<long, JournalEntry> _written = [];
    private readonly ECDsa _key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    private Forgery(List<Line> lines)
    {
        _tablet = [.. lines.Where(line => line.Chain == Chains.Tablet)];
        _job = [.. lines.Where(line => line.Chain == Chain)];
    }

    /// <summary>The job's entries in their order.</summary>
    public IReadOnlyList<Line> Lines => _job;

    /// <summary>Takes an export apart.</summary>
    public static Forgery Of(string export) => new([.. export.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(Line.Read)]);

    /// <summary>The n-th entry of a type whose data holds some words; negative numbers count from the end.</summary>
    public Line Find(string type, string words = "", int nth = 1)
    {
        var fitting = _job.Where(line => line.Type == type && line.Data.ToJsonString().Contains(words, StringComparison.Ordinal)).ToList();
        return fitting[nth > 0 ? nth - 1 : fitting.Count + nth];
    }

    /// <summary>The entry that stands before another.</summary>
    public Line Before(Line line) => _job[_job.IndexOf(line) - 1];

    /// <summary>Leaves entries out.</summary>
    public void Remove(params IEnumerable<Line> lines) => lines.ToList().ForEach(line => _job.Remove(line));

    /// <summary>The anchors of ordinary ticks between two entries.</summary>
    public IEnumerable<Line> TicksBetween(Line first, Line last) =>
        Span(first, last).Where(line => line.Type == "clock.anchored" && line.Data["why"]!.GetValue<string>() == "tick");

    /// <summary>Puts an entry before another, at that one's time.</summary>
    public void MoveBefore(Line line, Line next)
    {
        _job.Remove(line);
        _job.Insert(_job.IndexOf(next), line);
        (line.Time, line.Uptime) = (next.Time, next.Uptime);
    }

    /// <summary>Makes an entry up, before another and at its time.</summary>
    public void Insert(string type, string data, Line next) => _job.Insert(
        _job.IndexOf(next), new Line(Chain, 0, type, next.Time, next.BootId, next.Uptime, JsonNode.Parse(data)!.AsObject()));

    /// <summary>Moves everything from an entry to another, or to the end, in time; the wall clock can be left as it was.</summary>
    public void Shift(Line first, double seconds, Line? last = null, bool wall = true)
    {
        foreach (var line in Span(first, last ?? _job[^1]))
        {
            line.Shift((long)(seconds * 1e9), wall);
        }
    }

    /// <summary>Writes the export; the signatures can be made by a key that the store does not name.</summary>
    public string Write(bool foreignSignatures = false)
    {
        var tablet = Guid.Parse(_tablet[0].Source[9..]);
        var job = new List<JournalEntry>();
        foreach (var line in _job)
        {
            Renumber(line.Data);
            job.Add(Place(line, tablet, job));
            _written[line.Sequence] = job[^1];
        }

        using var foreign = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var heads = new List<JournalEntry>();
        foreach (var line in _tablet)
        {
            Sign(line, tablet, heads.LastOrDefault()?.Hash ?? ChainHash.None, foreignSignatures ? foreign : _key);
            heads.Add(Place(line, tablet, heads));
        }

        return string.Concat([.. heads.Select(head => Text(head, null)), .. job.Zip(_job, (entry, line) => Text(entry, line.Sealed))]);
    }

    private static JournalEntry Place(Line line, Guid tablet, List<JournalEntry> before) => EntryCodec.Encode(
        new EntryDraft(line.Chain, line.Type, line.Time, line.BootId, line.Uptime, line.Data.ToJsonString(), NoTexts),
        new EntryPlace(tablet, true, before.Count + 1, before.LastOrDefault()?.Hash ?? ChainHash.None));

    private static string Text(JournalEntry entry, JsonObject? texts)
    {
        var line = JsonNode.Parse(entry.Bytes.Span)!.AsObject();
        if (texts is not null)
        {
            line["sealed"] = texts.DeepClone();
        }

        return Encoding.UTF8.GetString(CanonicalJson.OfText(line.ToJsonString())) + "\n";
    }

    private List<Line> Span(Line first, Line last) =>
        _job.GetRange(_job.IndexOf(first), _job.IndexOf(last) - _job.IndexOf(first) + 1);

    /// <summary>Entries that name others by sequence name them by their new ones.</summary>
    private void Renumber(JsonObject data)
    {
        if (data["readings"] is JsonArray readings)
        {
            data["readings"] = new JsonArray([.. readings.Select(reading => (JsonNode)NewNumber(reading!.GetValue<long>()))]);
        }

        if (data["question"] is JsonValue question && question.TryGetValue<long>(out var asked))
        {
            data["question"] = NewNumber(asked);
        }
    }

    private long NewNumber(long old) => _written.TryGetValue(old, out var entry) ? entry.Sequence : old;

    private void Sign(Line line, Guid tablet, string tabletHash, ECDsa signer)
    {
        var publicKey = Convert.ToBase64String(_key.ExportSubjectPublicKeyInfo());
        if (line.Type != "head.signed")
        {
            line.Data["publickey"] = publicKey;
            return;
        }

        var old = line.Data["lastsequence"]!.GetValue<long>();
        var head = _written.Where(pair => pair.Key <= old).MaxBy(pair => pair.Key).Value;
        var statement = new JsonObject
        {
            ["job"] = Chain, ["lasthash"] = head.Hash, ["lastsequence"] = head.Sequence, ["tablet"] = tablet.ToString(), ["tablethash"] = tabletHash,
        };
        var signature = signer.SignData(CanonicalJson.OfText(statement.ToJsonString()), HashAlgorithmName.SHA256);
        line.Data["lastsequence"] = head.Sequence;
        line.Data["lasthash"] = head.Hash;
        line.Data["keyid"] = HeadStatement.KeyId(publicKey);
        line.Data["signature"] = Convert.ToBase64String(signature);
    }

    /// <summary>One entry as it can be changed.</summary>
    public sealed class Line(string chain, long sequence, string type, DateTimeOffset time, string bootId, long uptime, JsonObject data)
    {
        public string Chain { get; } = chain;

        public long Sequence { get; } = sequence;

        public string Type { get; } = type;

        public DateTimeOffset Time { get; set; } = time;

        public string BootId { get; } = bootId;

        public long Uptime { get; set; } = uptime;

        public JsonObject Data { get; } = data;

        public JsonObject? Sealed { get; private init; }

        public string Source { get; private init; } = string.Empty;

        public static Line Read(string text)
        {
            var json = JsonNode.Parse(text)!.AsObject();
            string Member(string name) => json[name]!.GetValue<string>();
            return new Line(
                Member("id").Split('/')[0],
                long.Parse(Member("sequence"), CultureInfo.InvariantCulture),
                Member("type"),
                DateTimeOffset.Parse(Member("time"), CultureInfo.InvariantCulture),
                Member("bootid"),
                long.Parse(Member("uptime"), CultureInfo.InvariantCulture),
                json["data"]!.DeepClone().AsObject())
            {
                Sealed = json["sealed"]?.DeepClone().AsObject(),
                Source = Member("source"),
            };
        }

        public void Shift(long nanoseconds, bool wall)
        {
            Uptime += nanoseconds;
            Time = wall ? Time.AddTicks(nanoseconds / 100) : Time;
            foreach (var member in Data.Where(member => member.Key is "awake" or "retestdue").Select(member => member.Key).ToList())
            {
                var moved = long.Parse(Data[member]!.GetValue<string>(), CultureInfo.InvariantCulture) + nanoseconds;
                Data[member] = moved.ToString(CultureInfo.InvariantCulture);
            }
        }
    }
}
