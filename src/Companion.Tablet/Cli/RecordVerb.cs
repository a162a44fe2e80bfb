using System.Globalization;
using Companion.Journal.Heads;
using Companion.Journal.Proof;
using Companion.Journal.Reading;
using Companion.Tablet.Kiosk;
using Companion.Tablet.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Hosting;

namespace Companion.Tablet.Cli;

/// <summary>record FILE [--proof FILE] [--room KEYFILE]: the pages that look back over an exported file, read-only, until stopped.</summary>
public static class RecordVerb
{
    /// <summary>Largest file that is opened: a year of a store is far below it.</summary>
    public const long LargestFile = 512L << 20;

    /// <summary>Runs until the process is told to end.</summary>
    public static async Task<int> RunAsync(Options options)
    {
        options.Only("proof", "room", "port");
        var path = options.Words.Count == 1 ? options.Words[0] : throw new UsageException("record needs one exported file: record FILE [--proof FILE] [--room KEYFILE].");
        var reading = Read(path);
        var records = Records(path, reading, OutsideFile.Of(options), Console.Out);
        await using var app = RecordWeb.Build(new TabletWebOptions { Port = PortOf(options) }, records);
        await app.StartAsync().ConfigureAwait(false);
        var profile = Directory.CreateTempSubdirectory("companion-record-");
        using var browser = KioskLauncher.Open(TabletWeb.Address(app, PageOf(reading)), profile.FullName, Console.Out);
        Console.WriteLine("Read-only. Ctrl+C ends it.");
        await app.WaitForShutdownAsync().ConfigureAwait(false);
        return 0;
    }

    /// <summary>Reads a file that ought to be an export.</summary>
    /// <exception cref="UsageException">It is none; the message says what it is and what to do.</exception>
    public static LooseReading Read(string path)
    {
        if (Directory.Exists(path))
        {
            throw new UsageException($"{path} is a folder. Name an exported file; `companion export --store {path} > job.ndjson` makes one of a store.");
        }

        if (!File.Exists(path))
        {
            throw new UsageException($"There is no file {path}.");
        }

        if (new FileInfo(path).Length > LargestFile)
        {
            throw new UsageException($"{path} is larger than {LargestFile >> 20} MiB. Export one job: `companion export --store DIR --job ID`.");
        }

        var bytes = File.ReadAllBytes(path);
        if (bytes is [(byte)'P', (byte)'K', 3, 4, ..])
        {
            throw new UsageException($"{path} is a ZIP, as the watch room hands it out. Unpack it, and name the file ending in .ndjson, with --proof the other one.");
        }

        var reading = ExportReading.Of(bytes);
        return reading.Jobs.Count > 0 ? reading : throw new UsageException(
            bytes.Length == 0 ? $"{path} is empty."
            : reading.HasTablet ? $"{path} holds no job, only entries of the tablet itself."
            : $"{path} is not an export of a Companion: no line of it can be read as an entry.");
    }

    /// <summary>The records of a file, after telling what it holds and whether a proof fits.</summary>
    public static FileRecords Records(string path, LooseReading reading, OutsideProof? proof, TextWriter output)
    {
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{path} holds {(reading.Jobs.Count == 1 ? "one job" : $"{reading.Jobs.Count} jobs")}: {string.Join(", ", reading.Jobs)}"));
        if (proof is null)
        {
            return new FileRecords(reading, null, []);
        }

        var report = JournalVerifier.Verify(path, proof: proof);
        foreach (var line in report.Lines())
        {
            output.WriteLine(line);
        }

        return new FileRecords(reading, report.IsSound ? HeadStatement.Of(proof.Document.Head) : null, [
            .. report.FirstBad is { } bad ? [$"entry {bad.Chain}/{bad.Sequence} does not hold: {bad.What}"] : Array.Empty<string>(), .. report.Problems]);
    }

    private static string PageOf(LooseReading reading) =>
        reading.Jobs is [var only] ? $"{RecordWeb.Root}/{Uri.EscapeDataString(only)}" : RecordWeb.Root;

    private static int PortOf(Options options) => options["port"] is not { } text ? 0
        : int.TryParse(text, CultureInfo.InvariantCulture, out var port) && port is >= 0 and < 65536 ? port
        : throw new UsageException("--port is a number up to 65535.");
}
