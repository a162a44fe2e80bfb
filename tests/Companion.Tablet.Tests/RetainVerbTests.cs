using System.Text;
using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Journal;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;

namespace Companion.Tablet.Tests;

/// <summary>retain, person and verify with a proof, as typed.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class RetainVerbTests : IDisposable
{
    private static readonly Ticks FortyDays = Ticks.OfSeconds(40 * 24 * 3600);
    private readonly string _folder = MemoryFolder.New("companion-retain-");
    private readonly ShiftedClock _clock = new();
    private readonly StringWriter _output = new();

    private string Store => Path.Combine(_folder, "store");

    private string Said => _output.ToString();

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_dry_run_says_what_would_be_erased_and_the_next_run_erases_it()
    {
        await RecordAsync();
        _clock.Forward(FortyDays);
        Assert.Equal(0, await RetainAsync("--dry"));
        Assert.Contains("job-1: would be erased: 1 heard", Said, StringComparison.Ordinal);
        Assert.Contains("job-2: on hold, the job is open. Nothing of it is erased.", Said, StringComparison.Ordinal);
        Assert.Equal(2, await TextsAsync("job-1"));
        Assert.Equal(0, await RetainAsync());
        Assert.Contains("job-1: erased: 1 heard", Said, StringComparison.Ordinal);
        Assert.Equal((1, 2), (await TextsAsync("job-1"), await TextsAsync("job-2")));
    }

    [Fact]
    public async Task A_folder_without_a_store_is_left_without_one()
    {
        await Assert.ThrowsAsync<UsageException>(() => RetainAsync());
        Assert.False(Directory.Exists(Store));
    }

    [Fact]
    public async Task A_request_names_who_asks_and_why_and_an_open_job_refuses_it()
    {
        await RecordAsync();
        await Assert.ThrowsAsync<UsageException>(() => RetainAsync("--job", "job-1"));
        await Assert.ThrowsAsync<UsageException>(() => RetainAsync("--job", "job-9", "--by", "Petra Ash", "--why", "asked by letter"));
        Assert.Equal(1, await RetainAsync("--job", "job-2", "--by", "Petra Ash", "--why", "asked by letter"));
        Assert.Equal(0, await RetainAsync("--job", "job-1", "--by", "Petra Ash", "--why", "asked by letter"));
        Assert.Equal((0, 2), (await TextsAsync("job-1"), await TextsAsync("job-2")));
    }

    [Fact]
    public async Task A_person_is_handed_what_the_store_holds_about_them()
    {
        await RecordAsync();
        using var output = new MemoryStream();
        Assert.Equal(0, PersonVerb.Run(new Options(["--store", Store, "--name", "Maren Oake"]), output, _output));
        Assert.Equal(2, Encoding.UTF8.GetString(output.ToArray()).Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Contains("2 of ", Said, StringComparison.Ordinal);
        Assert.Equal(1, PersonVerb.Run(new Options(["--store", Store, "--name", "Nobody Here"]), output, _output));
    }

    [Fact]
    public async Task A_proof_that_is_none_is_refused_with_what_to_do()
    {
        await RecordAsync();
        var proof = Path.Combine(_folder, "job.proof.json");
        await File.WriteAllTextAsync(proof, "{}");
        Assert.Contains("is no proof", Assert.Throws<UsageException>(() => VerifyVerb.Run(new Options([proof, "--proof", proof]), _output)).Message, StringComparison.Ordinal);
        Assert.Throws<UsageException>(() => VerifyVerb.Run(new Options(["--store", Store, "--proof", proof]), _output));
        Assert.Throws<UsageException>(() => VerifyVerb.Run(new Options([proof, "--store", Store]), _output));
        Assert.Throws<UsageException>(() => VerifyVerb.Run(new Options([proof, proof]), _output));
        Assert.Throws<UsageException>(() => VerifyVerb.Run(new Options([proof, "--room", proof]), _output));
        Assert.Equal(0, VerifyVerb.Run(new Options(["--store", Store]), _output));
    }

    private Task<int> RetainAsync(params string[] more) => RetainVerb.RunAsync(new Options(["--store", Store, .. more], "--dry"), _output, _clock);

    /// <summary>A job that was closed and one that is open, of two personal texts each.</summary>
    private async Task RecordAsync()
    {
        await using var journal = await JournalStore.OpenAsync(Store, new StoreOptions(_clock) { Kind = StoreKind.Real });
        foreach (var job in new[] { "job-1", "job-2" })
        {
            await journal.AppendAsync([Draft(job, "job.opened", ("name", "Maren Oake")), Draft(job, "speech.heard", ("text", "gloves on"))]);
        }

        await journal.AppendAsync([Draft("job-1", "job.closed")]);
    }

    private async Task<int> TextsAsync(string job)
    {
        await using var journal = await JournalStore.OpenAsync(Store, new StoreOptions(_clock));
        return journal.Read(job).Sum(entry => entry.Sealed.Count);
    }

    private EntryDraft Draft(string job, string type, params (string Member, string Text)[] texts)
    {
        var now = _clock.Now();
        return new EntryDraft(job, type, now.Wall, now.BootId, now.Boot.Nanoseconds, "{}", texts.ToDictionary(text => text.Member, text => text.Text));
    }
}
