using System.Text.Json;
using System.Text.RegularExpressions;
using Companion.Contracts;
using Companion.Domain.Retention;
using Companion.Journal.Proof;

namespace Companion.Journal.Retention;

/// <summary>
/// What entries hold about one person: those with a personal text that names the person, and those in which the person acts under the id that
/// such an entry ties to the name. Names of other people are left out. Pure; any thread.
/// </summary>
public sealed partial class PersonExtract
{
    /// <summary>Members in which an entry names by id who acted.</summary>
    private static readonly string[] Roles = ["technician", "person", "holder", "remover", "secondperson"];

    /// <summary>Members of the same entry that give a name to the technician's id.</summary>
    private static readonly string[] NameMembers = ["name", "technician"];

    private readonly Regex mention;
    private readonly HashSet<string> ids;

    /// <summary>An extract about a person, given all entries in which the person may be named.</summary>
    public PersonExtract(string name, IEnumerable<JournalEntry> entries)
    {
        mention = new Regex($@"(?<!\w){Regex.Escape(name.Trim())}(?!\w)", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant);
        ids = [.. entries.Where(entry => NameMembers.Any(member => entry.Sealed.TryGetValue(member, out var text) && IsWhole(text.Text)))
            .Select(entry => TextOf(entry, "technician"))
            .OfType<string>()
            .Where(id => !Hash().IsMatch(id))];
    }

    /// <summary>The export line of an entry that is about the person; null when it is not.</summary>
    public ReadOnlyMemory<byte>? LineOf(JournalEntry entry)
    {
        var isNamed = entry.Sealed.Values.Any(text => mention.IsMatch(text.Text));
        if (!isNamed && !Roles.Any(role => TextOf(entry, role) is { } id && ids.Contains(id)))
        {
            return null;
        }

        var texts = entry.Sealed
            .Where(text => PersonalKinds.Of(text.Key) != PersonalKind.Names || mention.IsMatch(text.Value.Text))
            .ToDictionary();
        return ExportLine.Of(entry with { Sealed = texts });
    }

    private static string? TextOf(JournalEntry entry, string member)
    {
        using var data = JsonDocument.Parse(entry.Data);
        return data.RootElement.TryGetProperty(member, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;
    }

    private bool IsWhole(string text) => mention.Match(text) is { Success: true } match && match.Length == text.Trim().Length;

    [GeneratedRegex("^[0-9a-f]{64}$")]
    private static partial Regex Hash();
}
