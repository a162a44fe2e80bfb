using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Engine.Codec;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Heads;
using Companion.Journal.Merkle;
using Companion.Journal.Proof;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;

namespace Companion.Tablet.Tests;

/// <summary>record FILE --proof FILE [--room KEYFILE], typed into a process of its own; the page is asked for at the address that it prints.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class ProvedFileTests : IAsyncLifetime
{
    private const string NoEnd = "The job does not end in this file";
    private readonly string _folder = MemoryFolder.New("companion-proved-");
    private readonly List<JournalEntry> _heads = [];
    private string _tabletKey = string.Empty;
    private SigningKey _room = null!;

    private string Export => Path.Combine(_folder, "job.ndjson");

    private string Proof => Path.Combine(_folder, "job.proof.json");

    /// <summary>A job that is still open, exported, with two ends of it that the tablet signed: at its opening and now.</summary>
    public async Task InitializeAsync()
    {
        var store = Path.Combine(_folder, "store");
        await using (var journal = await JournalStore.OpenAsync(store, new StoreOptions(new ShiftedClock()) { Kind = StoreKind.Real }))
        {
            foreach (var some in new JobBench().Open().Until(NeedKind.WaitOver).Log.Chunk(20))
            {
                await journal.AppendAsync([.. some.Select(recorded => EventCodec.Draft("job-1", recorded.Event, recorded.Moment))]);
            }

            await journal.RecordHeadsAsync();
            var tablet = journal.Read(Chains.Tablet);
            _tabletKey = HeadStatement.PublicKeyIn(tablet[0])!;
            _heads.AddRange(tablet.Where(entry => entry.Type == EntryTypes.HeadSigned && HeadStatement.Of(entry).Job == "job-1"));
        }

        await using (var file = File.Create(Export))
        {
            JournalExport.Write(store, file, "job-1");
        }

        _room = SigningKey.Create(new LocalDisk(), Path.Combine(_folder, "room.key"));
    }

    public Task DisposeAsync()
    {
        _room.Dispose();
        Directory.Delete(_folder, recursive: true);
        return Task.CompletedTask;
    }

    [Fact]
    public async Task A_proof_that_fits_vouches_for_the_end_of_a_job_that_is_open_in_its_file()
    {
        Assert.Contains(NoEnd, (await RecordAsync()).Page, StringComparison.Ordinal);
        WriteProof(_heads[^1]);
        var (said, page) = await RecordAsync("--proof", Proof, "--room", RoomKey(_room));
        Assert.Contains("counter-signed by the watch room", said, StringComparison.Ordinal);
        Assert.DoesNotContain(NoEnd, page, StringComparison.Ordinal);
        Assert.DoesNotContain("The record itself", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_proof_of_the_beginning_vouches_for_no_end()
    {
        WriteProof(_heads[0]);
        Assert.Contains(NoEnd, (await RecordAsync("--proof", Proof)).Page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_that_was_cut_is_told_by_its_proof_on_the_page()
    {
        WriteProof(_heads[^1]);
        var lines = await File.ReadAllLinesAsync(Export);
        await File.WriteAllTextAsync(Export, string.Concat(lines[..^1].Select(line => line + "\n")));
        var words = string.Create(CultureInfo.InvariantCulture, $"The proof: the export was cut: the tablet signed {lines.Length} entries of job-1, only {lines.Length - 1} are here");
        Assert.Contains(words, (await RecordAsync("--proof", Proof)).Page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_proof_of_another_watch_room_is_told_on_the_page()
    {
        WriteProof(_heads[^1]);
        using var other = SigningKey.Create(new LocalDisk(), Path.Combine(_folder, "other.key"));
        Assert.Contains("The proof: the proof was signed by another watch room", (await RecordAsync("--proof", Proof, "--room", RoomKey(other))).Page, StringComparison.Ordinal);
    }

    private void WriteProof(JournalEntry head)
    {
        var tree = new MerkleTree();
        tree.Add(MerkleHash.Leaf("another tablet's"u8));
        var index = tree.Add(MerkleHash.Leaf(head.Bytes.Span));
        tree.Add(MerkleHash.Leaf("the next tablet's"u8));
        File.WriteAllBytes(Proof, new ProofDocument(
            head, _tabletKey, index, tree.InclusionPath(index, tree.Size), SignedTreeHead.Sign(_room, tree.Size, tree.Root(), DemoTime.Start), _room.PublicKey).ToJson());
    }

    private string RoomKey(SigningKey key)
    {
        var path = Path.Combine(_folder, "room.pem");
        File.WriteAllText(path, $"-----BEGIN PUBLIC KEY-----\n{key.PublicKey}\n-----END PUBLIC KEY-----\n");
        return path;
    }

    /// <summary>What the verb prints before it waits, and the record's page.</summary>
    private async Task<(string Said, string Page)> RecordAsync(params string[] more)
    {
        var start = new ProcessStartInfo("dotnet", [typeof(RecordVerb).Assembly.Location, "record", Export, .. more]) { RedirectStandardOutput = true };
        start.Environment.Remove("DISPLAY");
        start.Environment.Remove("WAYLAND_DISPLAY");
        using var process = Process.Start(start)!;
        try
        {
            var said = new StringBuilder();
            while (await process.StandardOutput.ReadLineAsync() is { } line && line != "Read-only. Ctrl+C ends it.")
            {
                said.AppendLine(line);
            }

            using var browser = new HttpClient();
            var address = said.ToString().Split(' ').Single(word => word.StartsWith("http://", StringComparison.Ordinal));
            return (said.ToString(), WebUtility.HtmlDecode(await browser.GetStringAsync(new Uri(address))));
        }
        finally
        {
            Signals.Send("TERM", process.Id);
            await process.WaitForExitAsync();
        }
    }
}
