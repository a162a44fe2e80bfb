using Companion.Contracts;
using Companion.Domain.Isolation;
using Companion.Engine;
using Companion.Journal.Format;
using Companion.Journal.Proof;

namespace Companion.EndToEnd.Tests;

/// <summary>The journal of a running app, read from outside as anybody can: by export.</summary>
internal static class LiveJournal
{
    /// <summary>The entries of the one job, so far.</summary>
    public static IReadOnlyList<JournalEntry> Entries(string store)
    {
        using var output = new MemoryStream();
        JournalExport.Write(store, output);
        var lines = System.Text.Encoding.UTF8.GetString(output.ToArray()).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        return [.. lines.Select(line => EntryCodec.Parse(System.Text.Encoding.UTF8.GetBytes(line))).Where(entry => entry.Chain != Chains.Tablet)];
    }

    /// <summary>The job as its entries tell it.</summary>
    public static Job? JobOf(IReadOnlyList<JournalEntry> entries) => Rebuild.JobOf(entries);
}
