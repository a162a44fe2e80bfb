using System.Text;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Proof;
using Companion.Review;

namespace Companion.Tablet.Web;

/// <summary>
/// The tablet's own jobs, from the witness of its store while the app runs; nothing is recovered or changed. Personal texts stay out: no page
/// of the tablet may tell which wording a check-in had.
/// </summary>
/// <param name="store">The store's folder.</param>
public sealed class StoreRecords(string store) : IRecordSource
{
    /// <summary>The store's folder.</summary>
    public string Store { get; } = store;

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
        JournalExport.Write(Store, export, chain);
        export.Position = 0;
        using var lines = new StreamReader(export);
        var entries = new List<JournalEntry>();
        while (lines.ReadLine() is { } line)
        {
            entries.Add(EntryCodec.Parse(Encoding.UTF8.GetBytes(line)));
        }

        return entries;
    }
}
