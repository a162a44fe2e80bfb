using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Engine.Codec;
using Companion.Journal;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;

namespace Companion.Tablet.Tests;

/// <summary>papers, as typed.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class PapersVerbTests : IDisposable
{
    private static readonly string[] Files = ["hand-over.pdf", "label.pdf", "report.pdf"];

    private readonly string _folder = MemoryFolder.New("companion-papers-");
    private readonly StringWriter _output = new();

    private string Store => Path.Combine(_folder, "store");

    private string Out => Path.Combine(_folder, "out");

    private string Said => _output.ToString();

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_job_that_was_handed_over_gives_three_papers_and_nothing_of_the_store_changes()
    {
        await RecordAsync(end: true);
        var before = Contents();
        Assert.Equal(0, Run("--job", "job-1"));
        Assert.Equal(Files, Directory.GetFiles(Out).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.All(Files, file => Assert.Contains(Path.Combine(Out, file), Said, StringComparison.Ordinal));
        Assert.All(Directory.GetFiles(Out), file => Assert.Equal("%PDF-"u8.ToArray(), File.ReadAllBytes(file)[..5]));
        Assert.Equal(before, Contents());
        Assert.DoesNotContain("Trouble", Said, StringComparison.Ordinal);
        Assert.DoesNotContain("No code", Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_open_job_gives_papers_that_are_said_to_be_of_an_open_job()
    {
        await RecordAsync(end: false);
        Assert.Equal(0, Run("--job", "job-1"));
        Assert.Contains("Job still open: the papers tell how it stood at entry ", Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_job_that_is_not_there_is_refused_with_those_that_are()
    {
        await RecordAsync(end: true);
        Assert.Contains("holds no job 'job-9'. Its latest: job-1.", Assert.Throws<UsageException>(() => Run("--job", "job-9")).Message, StringComparison.Ordinal);
        Assert.Throws<UsageException>(() => Run("--job", "tablet"));
        Assert.Throws<UsageException>(() => Run());
        Assert.False(Directory.Exists(Out));
    }

    [Fact]
    public async Task A_record_whose_end_was_cut_off_is_told_as_trouble_and_ends_with_one()
    {
        await RecordAsync(end: true);
        var witness = Path.Combine(Store, "companion.witness");
        var bytes = await File.ReadAllBytesAsync(witness);
        await File.WriteAllBytesAsync(witness, bytes[..(bytes.Length / 2)]);
        Assert.Equal(1, Run("--job", "job-1"));
        Assert.Contains("Trouble with the record: The store does not verify: ", Said, StringComparison.Ordinal);
        Assert.Contains("Run ./companion verify on the store", Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_store_without_its_key_gives_papers_without_a_code_and_says_so()
    {
        await RecordAsync(end: true);
        File.Delete(Path.Combine(Store, "tablet.key"));
        Run("--job", "job-1");
        Assert.Contains("No code: the store's key is missing", Said, StringComparison.Ordinal);
    }

    private int Run(params string[] more) => PapersVerb.Run(new Options(["--store", Store, "--out", Out, .. more], "--names"), _output, TimeProvider.System);

    private string[] Contents() => [.. Directory.GetFiles(Store).Order(StringComparer.Ordinal).Select(file => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(file))))];

    private async Task RecordAsync(bool end)
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        if (end)
        {
            bench.Claim(Phrase.HandOver);
        }

        await using var journal = await JournalStore.OpenAsync(Store, new StoreOptions(new ShiftedClock()) { Kind = StoreKind.Real });
        foreach (var some in bench.Log.Chunk(20))
        {
            await journal.AppendAsync([.. some.Select(recorded => EventCodec.Draft("job-1", recorded.Event, recorded.Moment))]);
        }
    }
}
