using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Journal;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;

namespace Companion.Tablet.Tests;

/// <summary>Recorded sound is kept for the days that were announced, and no longer.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class SoundRetentionTests : IDisposable
{
    private readonly string _folder = MemoryFolder.New("companion-sound-days-");
    private readonly ShiftedClock _clock = new();
    private readonly StringWriter _output = new();

    private string Store => Path.Combine(_folder, "store");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Sound_goes_when_the_announced_days_are_over_and_the_chain_stays_provable()
    {
        await RecordAsync("job-1", 5, isClosed: true);
        await RecordAsync("job-2", 20, isClosed: true);
        await RecordAsync("job-3", 5, isClosed: false);
        _clock.Forward(Ticks.OfSeconds(6 * 24 * 3600));
        Assert.Equal(0, await RetainAsync("--dry"));
        Assert.True(HasSound("job-1"));
        Assert.Equal(0, await RetainAsync());
        Assert.Equal((false, true, true), (HasSound("job-1"), HasSound("job-2"), HasSound("job-3")));
        Assert.Contains("job-1: erased: 1 files of recorded sound", _output.ToString(), StringComparison.Ordinal);
        Assert.Contains("job-3: on hold, the job is open. Its recorded sound is kept.", _output.ToString(), StringComparison.Ordinal);

        await using (var journal = await JournalStore.OpenAsync(Store, new StoreOptions(_clock)))
        {
            var told = Assert.Single(journal.Read(Chains.Tablet), entry => entry.Type == "texts.erased");
            Assert.Contains("\"recordings\":1", told.Data, StringComparison.Ordinal);
            Assert.Contains(journal.Read("job-1"), entry => entry.Type == "sound.announced");
        }

        Assert.Equal(0, VerifyVerb.Run(new Options(["--store", Store]), _output));
    }

    [Fact]
    public async Task Sound_of_a_job_goes_with_the_rest_when_somebody_asks()
    {
        await RecordAsync("job-1", 300, isClosed: true);
        Assert.Equal(0, await RetainAsync("--job", "job-1", "--by", "Petra Ash", "--why", "asked by letter"));
        Assert.False(HasSound("job-1"));
    }

    [Fact]
    public async Task Who_asks_what_is_held_about_them_is_told_where_they_may_be_heard()
    {
        await RecordAsync("job-1", 300, isClosed: true);
        using var output = new MemoryStream();
        Assert.Equal(0, PersonVerb.Run(new Options(["--store", Store, "--name", "Maren Oake"]), output, _output));
        Assert.Contains(Path.Combine(Store, "sound", "job-1"), _output.ToString(), StringComparison.Ordinal);
    }

    private Task<int> RetainAsync(params string[] more) => RetainVerb.RunAsync(new Options(["--store", Store, .. more], "--dry"), _output, _clock);

    private bool HasSound(string job) => Directory.Exists(Path.Combine(Store, "sound", job));

    private async Task RecordAsync(string job, int days, bool isClosed)
    {
        await using var journal = await JournalStore.OpenAsync(Store, new StoreOptions(_clock) { Kind = StoreKind.Real });
        await journal.AppendAsync([Draft(job, "job.opened", "{}", ("name", "Maren Oake")), Draft(job, "sound.announced", $$"""{"days":{{days}}}""", ("orderedby", "Petra Ash"))]);
        if (isClosed)
        {
            await journal.AppendAsync([Draft(job, "job.closed", "{}")]);
        }

        var folder = Directory.CreateDirectory(Path.Combine(Store, "sound", job)).FullName;
        await File.WriteAllBytesAsync(Path.Combine(folder, "0000000005000000000_boot-0.wav"), new byte[100]);
    }

    private EntryDraft Draft(string job, string type, string data, params (string Member, string Text)[] texts)
    {
        var now = _clock.Now();
        return new EntryDraft(job, type, now.Wall, now.BootId, now.Boot.Nanoseconds, data, texts.ToDictionary(text => text.Member, text => text.Text));
    }
}
