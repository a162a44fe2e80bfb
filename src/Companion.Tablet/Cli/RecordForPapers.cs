using System.Collections.Immutable;
using System.Text;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Proof;
using Companion.Review;

namespace Companion.Tablet.Cli;

/// <summary>
/// A job's record for papers, from the witness of a store that is not opened: whatever does not verify, anywhere in the store, becomes a trouble
/// of the record, so that no paper claims what might be otherwise.
/// </summary>
internal static class RecordForPapers
{
    /// <summary>The record; null when the store holds no such job.</summary>
    /// <param name="store">The store's folder.</param>
    /// <param name="job">The job's id.</param>
    /// <param name="names">True to take personal texts along.</param>
    public static RecordedJob? Open(string store, string job, bool names)
    {
        using var export = new MemoryStream();
        if (job == Chains.Tablet || JournalExport.Write(store, export, job, includeSealed: names) == 0)
        {
            return null;
        }

        var entries = new List<JournalEntry>();
        var troubles = ImmutableArray.CreateBuilder<RecordTrouble>();
        foreach (var line in EntryBatch.Split(export.GetBuffer().AsMemory(0, (int)export.Length)).Where(line => !line.IsEmpty))
        {
            try
            {
                entries.Add(ExportLine.Parse(line));
            }
            catch (FormatException fault)
            {
                var sequence = EntryCodec.ClaimedPlace(line)?.Sequence ?? entries.Count + 1;
                troubles.Add(new RecordTrouble(sequence, TroubleKind.Unreadable, $"Entry {sequence} does not hold: {fault.Message}."));
            }
        }

        troubles.AddRange(OfTheStore(store, job));
        var record = RecordedJob.Of(job, entries);
        return record with { Troubles = [.. troubles, .. record.Troubles] };
    }

    /// <summary>The jobs of a store, the latest last.</summary>
    public static IReadOnlyList<string> Jobs(string store)
    {
        using var export = new MemoryStream();
        JournalExport.Write(store, export);
        return [.. Encoding.UTF8.GetString(export.GetBuffer(), 0, (int)export.Length).Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(line => EntryCodec.ClaimedPlace(Encoding.UTF8.GetBytes(line))?.Chain).OfType<string>().Distinct().Where(chain => chain != Chains.Tablet)];
    }

    private static IEnumerable<RecordTrouble> OfTheStore(string store, string job)
    {
        var report = JournalVerifier.Verify(store);
        if (report.FirstBad is { } bad)
        {
            yield return new RecordTrouble(
                bad.Chain == job ? bad.Sequence : 1, TroubleKind.BrokenLink, $"The store does not verify from entry {bad.Chain}/{bad.Sequence} on: {bad.What}.");
        }

        foreach (var problem in report.Problems)
        {
            yield return new RecordTrouble(1, TroubleKind.BrokenLink, $"The store does not verify: {problem}.");
        }
    }
}
