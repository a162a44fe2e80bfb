using System.Text;
using Companion.Contracts;
using Companion.Journal.Proof;
using Companion.Journal.Reading;
using Companion.Review;

namespace Companion.Tablet.Web;

/// <summary>
/// The tablet's own jobs, from the witness of its store while the app runs; nothing is recovered or changed. Personal texts stay out: no page
/// of the tablet may tell which wording a check-in had.
/// </summary>
/// <param name="store">The store's folder.</param>
public sealed class StoreRecords(string store) : IRecordSource
{
    /// <inheritdoc/>
    public IReadOnlyList<RecordName> Names() =>
    [
        .. Entries(null).Select(entry => entry.Chain).Distinct()
            .Where(chain => chain != Chains.Tablet)
            .OrderDescending(StringComparer.Ordinal)
            .Select(chain => new RecordName(string.Empty, chain)),
    ];

    /// <inheritdoc/>
    public RecordedJob? Open(RecordName name) =>
        name.Device.Length == 0 && name.Chain != Chains.Tablet && Entries(name.Chain) is { Count: > 0 } entries ? RecordedJob.Of(name.Chain, entries) : null;

    private List<JournalEntry> Entries(string? chain)
    {
        using var export = new MemoryStream();
        JournalExport.Write(store, export, chain);
        export.Position = 0;
        using var lines = new StreamReader(export);
        var entries = new List<JournalEntry>();
        while (lines.ReadLine() is { } line)
        {
            if (LineReading.Of(Encoding.UTF8.GetBytes(line)).Entry is { } entry)
            {
                entries.Add(entry);
            }
        }

        return entries;
    }
}
