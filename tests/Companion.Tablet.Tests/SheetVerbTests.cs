using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Journal;
using Companion.Journal.Proof;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;

namespace Companion.Tablet.Tests;

/// <summary>sheet check and sheet import, as typed.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class SheetVerbTests : IDisposable
{
    private static readonly string Seeds = Path.Combine(Places.Home, "seeds", "sheets");

    private readonly string _folder = MemoryFolder.New("companion-sheets-");
    private readonly ShiftedClock _clock = new();
    private readonly StringWriter _output = new();

    private string Store => Path.Combine(_folder, "store");

    private string Imported => Places.ImportedSheets(Store);

    private string Said => _output.ToString();

    public static TheoryData<string> AllSeeds() => [.. Directory.GetFiles(Seeds, "*.yaml").Select(path => Path.GetFileName(path)).Order()];

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [MemberData(nameof(AllSeeds))]
    public async Task Every_seed_sheet_passes_the_check(string name)
    {
        Assert.Equal(0, await RunAsync("check", Path.Combine(Seeds, name)));
        Assert.Contains(": sound. ", Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_stale_sheet_is_sound_and_the_check_warns_by_the_clock()
    {
        var path = Edited("tarnbeck-pipit", "2027-08-31", "2001-08-31");
        Assert.Equal(0, await RunAsync("check", path));
        Assert.Contains("caution, line 10, source.reviewby: The sheet was to be reviewed by 31 August 2001", Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sheet_is_imported_with_its_document_and_recorded_outside_every_job()
    {
        Assert.Equal(0, await RunAsync("import", Path.Combine(Seeds, "fennick-siskin.yaml"), "--store", Store));

        Assert.Equal(["fennick-siskin.pdf", "fennick-siskin.yaml"], Directory.GetFiles(Imported).Select(path => Path.GetFileName(path)).Order());
        Assert.Equal(Imported, Places.Sheets(Store));
        var offered = Assert.Single(new FolderCatalogue(Imported).All());
        var data = JsonNode.Parse((await EntriesAsync()).Single(entry => entry.Type == "sheet.imported").Data)!;
        Assert.Equal(("fennick-siskin", 4, 1), ((string)data["id"]!, (int)data["number"]!, (int)data["edition"]!));
        Assert.Equal((offered.Digest, "Workshop standards desk (invented)", "2027-10-31"), ((string)data["digest"]!, (string)data["approver"]!, (string)data["reviewby"]!));
        Assert.Equal(("Fennick workshop leaflet M-48, Siskin (invented)", "fennick-siskin.pdf"), ((string)data["document"]!, (string)data["attachment"]!));
        Assert.True(JournalVerifier.Verify(Store).IsSound);
        await IndependentCheckAsync();
    }

    [Fact]
    public async Task A_sheet_with_a_fault_is_not_imported()
    {
        var path = Edited("tarnbeck-pipit", "limitdc: \"12\"", "limitdc: \"61\"");
        Assert.Equal(1, await RunAsync("import", path, "--store", Store));
        Assert.Contains("above the ceiling of 60 volts", Said, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Store));
    }

    [Fact]
    public async Task A_higher_edition_takes_the_place_of_the_one_before()
    {
        await RunAsync("import", Path.Combine(Seeds, "tarnbeck-pipit.yaml"), "--store", Store);
        Assert.Equal(0, await RunAsync("import", Edited("tarnbeck-pipit", "edition: 3", "edition: 4"), "--store", Store));
        Assert.Equal(4, Assert.Single(new FolderCatalogue(Imported).All()).Sheet.Edition);
        Assert.Equal(2, (await EntriesAsync()).Count(entry => entry.Type == "sheet.imported"));
    }

    [Theory]
    [InlineData("edition: 3", "edition: 2", "Edition 3 of 'tarnbeck-pipit' was imported before, and this is edition 2.")]
    [InlineData("seconds: 600", "seconds: 300", "Edition 3 of 'tarnbeck-pipit' was imported before with other content.")]
    public async Task A_lower_or_the_same_edition_with_other_content_is_refused_even_when_the_file_was_deleted(string from, string to, string reason)
    {
        await RunAsync("import", Path.Combine(Seeds, "tarnbeck-pipit.yaml"), "--store", Store);
        File.Delete(Path.Combine(Imported, "tarnbeck-pipit.yaml"));

        Assert.Equal(1, await RunAsync("import", Edited("tarnbeck-pipit", from, to), "--store", Store));

        Assert.Contains(reason, Said, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(Imported));
        Assert.Single(await EntriesAsync(), entry => entry.Type == "sheet.imported");
    }

    // A power cut between record and copy leaves the record alone: the same import again completes it.
    [Fact]
    public async Task The_same_import_again_puts_the_files_in_place_and_records_nothing_twice()
    {
        var path = Path.Combine(Seeds, "fennick-siskin.yaml");
        await RunAsync("import", path, "--store", Store);
        Directory.Delete(Imported, recursive: true);

        Assert.Equal(0, await RunAsync("import", path, "--store", Store));

        Assert.Equal(2, Directory.GetFiles(Imported).Length);
        Assert.Single(await EntriesAsync(), entry => entry.Type == "sheet.imported");
    }

    [Fact]
    public async Task The_same_edition_with_another_document_is_other_content()
    {
        await RunAsync("import", Path.Combine(Seeds, "fennick-siskin.yaml"), "--store", Store);
        var path = Edited("fennick-siskin", "", "");
        File.WriteAllText(Path.Combine(_folder, "fennick-siskin.pdf"), "%PDF-1.4 other");

        Assert.Equal(1, await RunAsync("import", path, "--store", Store));
        Assert.Contains("with other content", Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_number_or_a_document_of_another_sheet_is_not_taken_over()
    {
        await RunAsync("import", Path.Combine(Seeds, "fennick-siskin.yaml"), "--store", Store);
        Assert.Equal(1, await RunAsync("import", Edited("tarnbeck-pipit", "number: 1\n", "number: 4\n"), "--store", Store));
        Assert.Contains("The number 4 belongs to 'fennick-siskin' in this store.", Said, StringComparison.Ordinal);

        File.WriteAllText(Path.Combine(_folder, "fennick-siskin.pdf"), "%PDF-1.4 another vehicle's");
        var other = Edited("tarnbeck-pipit", "reviewby: \"2027-08-31\"", "reviewby: \"2027-08-31\"\n  attachment: fennick-siskin.pdf");
        Assert.Equal(1, await RunAsync("import", other, "--store", Store));
        Assert.Contains("'fennick-siskin' has another document named 'fennick-siskin.pdf' in this store.", Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task While_the_app_holds_the_store_nothing_is_imported_and_the_reason_is_given()
    {
        await using var running = await OpenAsync();
        Assert.Equal(1, await RunAsync("import", Path.Combine(Seeds, "tarnbeck-pipit.yaml"), "--store", Store));
        Assert.Contains("is already open", Said, StringComparison.Ordinal);
        Assert.Contains("Nothing was imported. If the app is running, stop it, import, and start it again.", Said, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Imported));
    }

    private Task<int> RunAsync(params string[] arguments) => SheetVerb.RunAsync(new Options(arguments), _output, _clock);

    private Task<JournalStore> OpenAsync() => JournalStore.OpenAsync(Store, new StoreOptions(_clock) { Kind = StoreKind.Real });

    private async Task<IReadOnlyList<JournalEntry>> EntriesAsync()
    {
        await using var store = await OpenAsync();
        return store.Read(Chains.Tablet);
    }

    private async Task IndependentCheckAsync()
    {
        var path = Path.Combine(_folder, "export.ndjson");
        await using (var file = File.Create(path))
        {
            JournalExport.Write(Store, file);
        }

        var report = await IndependentChecker.CheckAsync(path);
        Assert.True(report.Exit == 0, report.ToString());
    }

    private string Edited(string name, string from, string to)
    {
        var text = File.ReadAllText(Path.Combine(Seeds, name + ".yaml"));
        var path = Path.Combine(_folder, name + "-edited.yaml");
        if (from.Length > 0)
        {
            Assert.Contains(from, text, StringComparison.Ordinal);
            text = text.Replace(from, to, StringComparison.Ordinal);
        }

        File.WriteAllText(path, text);
        return path;
    }
}
