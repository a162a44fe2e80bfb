using System.Globalization;
using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.Engine.Ports;

namespace Companion.Tablet.Importing;

/// <summary>An import as the tablet's chain tells it.</summary>
/// <param name="Id">The sheet.</param>
/// <param name="Edition">Its edition.</param>
/// <param name="Digest">What it says, as <see cref="SheetDigest"/> has it.</param>
/// <param name="AttachmentDigest">SHA-256 of the document beside it; null without one.</param>
public sealed record ImportRecord(string Id, int Edition, string Digest, string? AttachmentDigest)
{
    /// <summary>The entry type.</summary>
    public const string EntryType = "sheet.imported";

    /// <summary>The latest import of a sheet into a store; null when there was none.</summary>
    public static ImportRecord? Latest(IJournal journal, string id) =>
        journal.Read(Chains.Tablet).Where(entry => entry.Type == EntryType).Select(Read).LastOrDefault(record => record.Id == id);

    /// <summary>The entry that records an import.</summary>
    public static EntryDraft Draft(SheetFile file, Moment moment)
    {
        var sheet = file.Sheet;
        var data = new JsonObject
        {
            ["id"] = sheet.Id,
            ["number"] = sheet.Number,
            ["edition"] = sheet.Edition,
            ["digest"] = SheetDigest.Of(sheet),
            ["approver"] = sheet.Approver,
            ["reviewby"] = sheet.Source.ReviewBy.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            ["document"] = sheet.Source.Document,
            ["documentedition"] = sheet.Source.Edition,
        };
        if (sheet.Source.Attachment is { } attachment)
        {
            data["attachment"] = attachment;
            data["attachmentdigest"] = file.AttachmentDigest();
        }

        return new EntryDraft(
            Chains.Tablet, EntryType, moment.Wall, moment.BootId, moment.Boot.Nanoseconds, data.ToJsonString(), new Dictionary<string, string>());
    }

    private static ImportRecord Read(JournalEntry entry)
    {
        var data = JsonNode.Parse(entry.Data)!.AsObject();
        return new(data.Text("id"), data.Whole("edition"), data.Text("digest"), data.TextOrNull("attachmentdigest"));
    }
}
