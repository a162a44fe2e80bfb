using Companion.Domain.Asking;
using Companion.Domain;
using Companion.Journal.Proof;
using Companion.Tablet.Tests.Support;
using Companion.Voice.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace Companion.EndToEnd.Tests;

/// <summary>
/// One whole job on real parts: a voice into a microphone of PulseAudio, the published app, prompts out of its loudspeaker, the
/// screen in a real browser, the journal in real files (in memory, so that other work on the disk does not end the record). Takes about
/// six minutes of real time: a real store knows no other.
/// </summary>
[Collection(PublishedApp.OneAtATime)]
public sealed class SpokenJobTests : IDisposable
{
    private readonly string _folder = MemoryFolder.New("companion-end-to-end-");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_job_is_spoken_from_the_sound_check_to_clear_to_work()
    {
        using var sound = new SoundSystem();
        using var loudspeaker = new Loudspeaker(sound.Server);
        using var room = new QuietRoom(_folder, sound.Server);
        await using var app = new PublishedApp(_folder, sound.Server);
        await using var screen = await JobScreenPage.LaunchAsync();
        var page = await screen.OpenJobAsync(await app.AddressAsync());
        var person = new Person(app.Store, _folder, sound.Server);

        await person.WorkUntilAsync(NeedKind.SceneAct, TimeSpan.FromMinutes(3));
        await JobScreenPage.ArriveAsync(page);
        await person.WorkUntilAsync(NeedKind.WaitOver, TimeSpan.FromMinutes(6));
        await person.SayUntilAsync("proved dead", "dead.refused");
        await Expect(page.Locator("body")).ToContainTextAsync("not yet tested", new() { Timeout = 90_000 });
        await person.WorkUntilAsync(NeedKind.Working, TimeSpan.FromMinutes(8));

        await Expect(page.Locator(".statement")).ToContainTextAsync("clear to work", new() { IgnoreCase = true });
        await Expect(page.Locator(".statement")).ToContainTextAsync("battery side of the service plug");
        AssertPromptsSounded(app, loudspeaker);
        Assert.Equal(0, await app.StopAsync());
        AssertJournal(app);
    }

    /// <summary>Every prompt that is journalled as spoken was heard at the loudspeaker in the second before its entry.</summary>
    private static void AssertPromptsSounded(PublishedApp app, Loudspeaker loudspeaker)
    {
        const double audible = 0.01;
        var spoken = LiveJournal.Entries(app.Store).Where(entry => entry.Type == "prompt.spoken").ToList();
        var heard = spoken.Count(entry => loudspeaker.Level(entry.Time.AddSeconds(-1.4), entry.Time.AddSeconds(-0.3)) > audible);
        Assert.True(spoken.Count > 40, $"Only {spoken.Count} prompts were spoken.");
        Assert.True(heard >= spoken.Count * 0.95, $"Only {heard} of {spoken.Count} prompts were heard at the loudspeaker.");
    }

    private static void AssertJournal(PublishedApp app)
    {
        var report = JournalVerifier.Verify(app.Store);
        Assert.True(report.IsSound, string.Join(Environment.NewLine, report.Lines()));
        var entries = LiveJournal.Entries(app.Store);
        var job = LiveJournal.JobOf(entries)!;
        Assert.NotNull(job.Clearance);
        Assert.Equal([new TestPlaceId("inverter")], job.Proofs.Keys);
        Assert.Equal(3, entries.Count(entry => entry.Type == "point.opened"));
        Assert.Contains(entries, entry => entry.Type == "dead.refused");
        Assert.All(entries.Where(entry => entry.Type == "code.accepted"), entry => Assert.Contains("voice", entry.Data, StringComparison.Ordinal));
        var link = entries.Where(entry => entry.Type is "wait.started" or "wait.completed" && entry.Data.Contains("\"link\"", StringComparison.Ordinal)).ToList();
        Assert.Equal(2, link.Count);
        Assert.True(link[1].Uptime - link[0].Uptime >= 60_000_000_000);
    }
}
