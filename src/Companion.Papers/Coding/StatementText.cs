using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace Companion.Papers.Coding;

/// <summary>
/// The canonical text of a statement: one line for each thing, words that anybody can read. Every time is in the offset of the last. Reading it back gives the same text, or it is refused.
/// </summary>
internal static class StatementText
{
    public const string Opening = "Companion paper ";
    public const char Version = 'A';

    private const string Rehearsal = "rehearsal: no vehicle was isolated";
    private const string NotProved = "not proved dead";
    private const string Proved = "proved dead ";
    private const string Minutes = "yyyy-MM-dd HH:mm";
    private const string Seconds = "yyyy-MM-dd HH:mm:ss zzz";

    public static string Of(PaperStatement statement)
    {
        var text = new StringBuilder().Append(Opening).Append(Version);
        if (statement.Rehearsal)
        {
            text.Append('\n').Append(Rehearsal);
        }

        text.Append("\njob ").Append(statement.Job).Append("\nstate ").Append(StateWords.Of(statement.State));
        if (statement.RetestDue is { } due)
        {
            text.Append("\nretest due ").Append(Time(due, Minutes));
        }

        foreach (var place in statement.Places)
        {
            text.Append("\nplace ").Append(place.Name).Append(": ").Append(place.ProvedDead is { } proved ? Proved + Time(proved, Minutes) : NotProved);
        }

        if (statement.MorePlaces > 0)
        {
            text.Append("\nmore places ").Append(Number(statement.MorePlaces));
        }

        return text.Append("\nas of ").Append(Time(statement.AsOf, Seconds))
            .Append("\nentry ").Append(Number(statement.Sequence)).Append("\nhash ").Append(statement.HashStart)
            .Append("\ntablet ").Append(statement.Tablet.ToString("D")).ToString();
    }

    /// <summary>The statement of a text; null when it is none, or not in its one canonical form.</summary>
    public static PaperStatement? Read(string text)
    {
        var lines = text.Split('\n').Skip(1).ToList();
        var rehearsal = lines.Remove(Rehearsal);
        var values = lines.ToLookup(line => Names.FirstOrDefault(name => line.StartsWith(name, StringComparison.Ordinal)) ?? string.Empty);
        if (StateWords.Read(One(values, "state ")) is not { } state
            || !DateTimeOffset.TryParseExact(One(values, "as of "), Seconds, CultureInfo.InvariantCulture, DateTimeStyles.None, out var asOf)
            || !long.TryParse(One(values, "entry "), NumberStyles.None, CultureInfo.InvariantCulture, out var sequence)
            || !Guid.TryParseExact(One(values, "tablet "), "D", out var tablet))
        {
            return null;
        }

        var read = new PaperStatement(
            One(values, "job "),
            rehearsal,
            state,
            Minute(One(values, "retest due "), asOf.Offset),
            [.. values["place "].Select(line => PlaceIn(line, asOf.Offset))],
            int.TryParse(One(values, "more places "), NumberStyles.None, CultureInfo.InvariantCulture, out var more) ? more : 0,
            asOf,
            sequence,
            One(values, "hash "),
            tablet);
        return Of(read) == text ? read : null;
    }

    private static readonly ImmutableArray<string> Names =
        ["job ", "state ", "retest due ", "place ", "more places ", "as of ", "entry ", "hash ", "tablet "];

    private static string One(ILookup<string, string> values, string name) => values[name].FirstOrDefault()?[name.Length..] ?? string.Empty;

    private static CodedPlace PlaceIn(string line, TimeSpan offset)
    {
        var at = line.LastIndexOf($": {NotProved}", StringComparison.Ordinal);
        if (at >= 0)
        {
            return new CodedPlace(line["place ".Length..at], null);
        }

        at = line.LastIndexOf($": {Proved}", StringComparison.Ordinal);
        return at >= 0
            ? new CodedPlace(line["place ".Length..at], Minute(line[(at + Proved.Length + 2)..], offset))
            : new CodedPlace(string.Empty, null);
    }

    private static DateTimeOffset? Minute(string text, TimeSpan offset) =>
        DateTime.TryParseExact(text, Minutes, CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? new DateTimeOffset(time, offset) : null;

    private static string Time(DateTimeOffset at, string form) => at.ToString(form, CultureInfo.InvariantCulture);

    private static string Number(long number) => number.ToString(CultureInfo.InvariantCulture);
}
