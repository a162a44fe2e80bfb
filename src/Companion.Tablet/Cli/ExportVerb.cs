using Companion.Journal.Proof;

namespace Companion.Tablet.Cli;

/// <summary>export [--store DIR] [--job ID]: the chains as NDJSON on standard output, read-only.</summary>
public static class ExportVerb
{
    /// <summary>Writes the entries.</summary>
    public static int Run(Options options)
    {
        options.Only("store", "job");
        using var output = Console.OpenStandardOutput();
        var written = JournalExport.Write(options["store"] ?? Places.Store, output, options["job"]);
        if (written == 0 && options["job"] is { } job)
        {
            throw new UsageException($"The store holds no job '{job}'.");
        }

        return 0;
    }
}
