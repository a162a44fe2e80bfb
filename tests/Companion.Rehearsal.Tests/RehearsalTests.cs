using System.Diagnostics;
using System.Text;
using System.Text.Json;
using Companion.Engine.Codec;
using Companion.Journal.Proof;
using Companion.Tablet.Cli;
using Companion.TestKit;
using Json.Schema;

namespace Companion.Rehearsal.Tests;

/// <summary>Every script of the project through the real ear, engine and journal, as the command line plays it.</summary>
public sealed class RehearsalTests : IDisposable
{
    private static readonly JsonElement Rows =
        JsonDocument.Parse(File.ReadAllText(Path.Combine(Places.Home, "shared", "schemas", "journal-entry.schema.json"))).RootElement;

    private static readonly JsonSchema Schema = JsonSchema.Build(Rows);

    private readonly string _folder = Directory.CreateTempSubdirectory("companion-rehearsal-tests-").FullName;

    public static TheoryData<string> Scripts() =>
        [.. Directory.EnumerateFiles(Path.Combine(Places.Data, "rehearsals"), "*.yaml").Select(path => Path.GetFileName(path)!).Order()];

    [Theory]
    [MemberData(nameof(Scripts))]
    public async Task A_rehearsal_ends_as_its_script_says_and_its_journal_is_sound(string script)
    {
        var store = Path.Combine(_folder, "store");

        var (exit, output) = await CompanionAsync("rehearse", Path.Combine(Places.Data, "rehearsals", script), "--store", store);

        Assert.True(exit == 0, output);
        Assert.Contains("ended as the script says", output, StringComparison.Ordinal);
        var report = JournalVerifier.Verify(store);
        Assert.True(report.IsSound, string.Join(Environment.NewLine, report.Lines()));
        Assert.True(report.Entries > 30);
        var export = Export(store);
        AssertFitsSchema(export);
        await AssertIndependentlyAcceptedAsync(export);
    }

    [Fact]
    public void Every_event_of_a_job_has_its_row_in_the_journal_schema() =>
        Assert.All(EventTypes.Names, name => Assert.True(Rows.GetProperty("$defs").TryGetProperty(name, out _), name));

    [Fact]
    public async Task The_recorded_voice_of_a_rehearsal_does_the_same_job_again()
    {
        var script = Path.Combine(Places.Data, "rehearsals", "clean.yaml");
        var sound = Path.Combine(_folder, "clean.wav");
        var (first, firstOutput) = await CompanionAsync("rehearse", script, "--store", Path.Combine(_folder, "a"), "--wav", sound);
        Assert.True(first == 0, firstOutput);

        var (second, secondOutput) = await CompanionAsync("rehearse", script, "--store", Path.Combine(_folder, "b"), "--input", sound);

        Assert.True(second == 0, secondOutput);
    }

    [Fact]
    public async Task A_script_with_a_fault_is_refused_with_its_line()
    {
        var script = Path.Combine(_folder, "broken.yaml");
        File.WriteAllText(script, "name: broken\nabout: x\nsheet: none\n");

        var (exit, output) = await CompanionAsync("rehearse", script);

        Assert.Equal(2, exit);
        Assert.Contains("line 3", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_rehearsal_is_refused_on_a_store_of_real_jobs()
    {
        var store = Path.Combine(_folder, "real");
        await using (await Companion.Journal.JournalStore.OpenAsync(
            store, new(new Companion.Tablet.Clocks.TabletClock()) { Kind = Companion.Contracts.StoreKind.Real }))
        {
        }

        var (exit, output) = await CompanionAsync("rehearse", Path.Combine(Places.Data, "rehearsals", "clean.yaml"), "--store", store);

        Assert.Equal(2, exit);
        Assert.Contains("real", output, StringComparison.OrdinalIgnoreCase);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static string Export(string store)
    {
        using var output = new MemoryStream();
        JournalExport.Write(store, output, includeSealed: true);
        return Encoding.UTF8.GetString(output.ToArray());
    }

    // I1, I2, I3, I6, I15, by a program that shares no code with this one.
    private async Task AssertIndependentlyAcceptedAsync(string export)
    {
        var file = Path.Combine(_folder, "export.ndjson");
        await File.WriteAllTextAsync(file, export);
        var report = await IndependentChecker.CheckAsync(file);
        Assert.True(report.Exit == 0, report.ToString());
    }

    private static void AssertFitsSchema(string export)
    {
        foreach (var line in export.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            using var entry = JsonDocument.Parse(line);
            Assert.True(Schema.Evaluate(entry.RootElement).IsValid, line);
        }
    }

    private static async Task<(int Exit, string Output)> CompanionAsync(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [typeof(Places).Assembly.Location, .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        return (process.ExitCode, await output + await error);
    }
}
