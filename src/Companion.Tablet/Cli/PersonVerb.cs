using Companion.Domain.Sound;
using Companion.Journal.Proof;
using Companion.Journal.Retention;

namespace Companion.Tablet.Cli;

/// <summary>person [--store DIR] --name NAME: what a store holds about one person, as NDJSON on standard output, read-only.</summary>
public static class PersonVerb
{
    /// <summary>Writes the entries; 0 when there is any, 1 when there is none.</summary>
    public static int Run(Options options)
    {
        using var output = Console.OpenStandardOutput();
        return Run(options, output, Console.Error);
    }

    /// <summary>The same, with its output, and where it says how many there are.</summary>
    public static int Run(Options options, Stream output, TextWriter words)
    {
        options.Only("store", "name");
        using var export = new MemoryStream();
        var store = options["store"] ?? Places.Store;
        JournalExport.Write(store, export, includeSealed: true);
        var entries = ExportLine.ReadAll(export.GetBuffer().AsMemory(0, (int)export.Length)).ToList();
        var extract = new PersonExtract(options.Required("name"), entries);
        var count = 0;
        var jobs = new HashSet<string>();
        foreach (var entry in entries)
        {
            if (extract.LineOf(entry) is { } line)
            {
                output.Write(line.Span);
                output.WriteByte((byte)'\n');
                count++;
                jobs.Add(entry.Chain);
            }
        }

        words.WriteLine(count == 0 ? "The store holds nothing about that person." : $"{count} of {entries.Count} entries are about that person.");
        foreach (var folder in jobs.Select(job => SoundFolder.Of(store, job)).Where(Directory.Exists).Order(StringComparer.Ordinal))
        {
            words.WriteLine($"Recorded sound, in which the person may be heard, is not part of this file: {folder}");
        }

        return count == 0 ? 1 : 0;
    }
}
