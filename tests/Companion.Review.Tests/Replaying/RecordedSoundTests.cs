using System.Net;
using System.Security.Cryptography;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Sound;
using Companion.Domain.Time;
using Companion.Review.Listening;
using Companion.TestKit;
using static Microsoft.Playwright.Assertions;

namespace Companion.Review.Tests.Replaying;

/// <summary>Recorded sound in a replay: in step, only where it fits the record, and nowhere without a shelf.</summary>
public sealed class RecordedSoundTests(ReplayBrowser browser) : IClassFixture<ReplayBrowser>, IDisposable
{
    private const int Rate = 16000;
    private const string First = "0000000001000000000_boot.wav";
    private const string Second = "0000000002000000000_boot.wav";

    private readonly string store = Directory.CreateTempSubdirectory("companion-heard").FullName;

    private string Folder => Path.Combine(store, "sound", "job-1");

    public void Dispose() => Directory.Delete(store, recursive: true);

    [Fact]
    public async Task Sound_stands_in_the_record_s_time_by_the_clock_of_its_entries()
    {
        var record = await RecordAsync();
        var (before, part) = (record.Entries.First(entry => entry.Happened is CodeAccepted), record.Entries.First(entry => entry.Happened is SoundRecorded));
        var stretches = SoundStretch.Of(record);
        Assert.Equal(2, stretches.Length);
        Assert.Equal(before.Since + TimeSpan.FromSeconds(1), stretches[0].From);
        Assert.Equal((part.Sequence, TimeSpan.FromSeconds(4)), (stretches[0].Sequence, stretches[0].Until - stretches[0].From));
    }

    [Fact]
    public async Task A_part_of_a_running_period_without_entries_has_no_place()
    {
        var bench = await new EngineBench { Sound = new SoundPolicy(14, "Petra Ash") }.OpenAsync();
        await bench.DoAsync(new KeepSound("job-1", new SoundRecorded(First, "another-boot", Ticks.Zero, Ticks.OfSeconds(4), new string('a', 64), 0, true)));
        Assert.Empty(SoundStretch.Of(RecordedJob.Of("job-1", bench.Journal.Read("job-1"))));
    }

    [Fact]
    public async Task Only_a_file_that_fits_the_record_is_given_out()
    {
        var record = await RecordAsync();
        await using var host = await ReplayHost.StartAsync(record, _ => null, new SoundShelf(store));
        using var client = new HttpClient { BaseAddress = host.Address };
        var parts = SoundStretch.Of(record);
        var whole = await client.GetAsync($"/record/job-1/sound/{parts[0].Sequence}.wav");
        Assert.Equal((HttpStatusCode.OK, "audio/wav"), (whole.StatusCode, whole.Content.Headers.ContentType!.MediaType));
        Assert.Equal(await File.ReadAllBytesAsync(Path.Combine(Folder, First)), await whole.Content.ReadAsByteArrayAsync());

        var changed = await File.ReadAllBytesAsync(Path.Combine(Folder, First));
        changed[5000] ^= 1;
        await File.WriteAllBytesAsync(Path.Combine(Folder, First), changed);
        var misfit = await client.GetAsync($"/record/job-1/sound/{parts[0].Sequence}.wav");
        Assert.Equal(HttpStatusCode.Conflict, misfit.StatusCode);
        Assert.Contains("does not fit the record", await misfit.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        File.Delete(Path.Combine(Folder, Second));
        var erased = await client.GetAsync($"/record/job-1/sound/{parts[1].Sequence}.wav");
        Assert.Equal(HttpStatusCode.NotFound, erased.StatusCode);
        Assert.Contains("is not here", await erased.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync("/record/job-1/sound/1.wav")).StatusCode);
    }

    [Fact]
    public async Task Without_a_shelf_no_sound_is_given_out_and_the_page_says_so()
    {
        var record = await RecordAsync();
        await using var host = await ReplayHost.StartAsync(record, _ => null);
        using var client = new HttpClient { BaseAddress = host.Address };
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/record/job-1/sound/{SoundStretch.Of(record)[0].Sequence}.wav")).StatusCode);
        var page = await client.GetStringAsync("/");
        Assert.Contains("The sound of the job was recorded, and is not played here.", page, StringComparison.Ordinal);
        Assert.DoesNotContain("data-hear", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_is_heard_at_one_time_from_where_the_replay_stands_and_what_does_not_fit_is_said()
    {
        var record = await RecordAsync();
        var parts = SoundStretch.Of(record);
        await File.WriteAllBytesAsync(Path.Combine(Folder, Second), new byte[2000]);
        await using var host = await ReplayHost.StartAsync(record, _ => null, new SoundShelf(store));
        var page = await browser.OpenAsync(host);
        var says = page.Locator("[data-hear-says]");
        await Expect(says).ToHaveTextAsync("There is no recorded sound of this time.");
        await page.EvaluateAsync("at => document.dispatchEvent(new CustomEvent('moment', { detail: { at, from: 'timeline' } }))", parts[0].From.TotalMilliseconds + 500);
        await page.ClickAsync("[data-do=play]");
        await Expect(page.Locator("[data-replay]")).ToHaveAttributeAsync("data-heard", parts[0].Sequence.ToString(System.Globalization.CultureInfo.InvariantCulture));
        await Expect(says).ToHaveTextAsync("Recorded sound, as it fits the record.");
        await says.ScrollIntoViewIfNeededAsync();
        await ReplayBrowser.KeepAsync(page, "sound-1280");
        await page.ClickAsync("[data-speed='2']");
        await Expect(says).ToHaveTextAsync("Recorded sound is heard at 1 time only.");
        await page.ClickAsync("[data-speed='1']");
        await page.EvaluateAsync("at => document.dispatchEvent(new CustomEvent('moment', { detail: { at, from: 'timeline' } }))", parts[1].From.TotalMilliseconds + 100);
        await Expect(says).ToContainTextAsync("does not fit the record");
        await page.SetViewportSizeAsync(390, 844);
        await ReplayBrowser.KeepAsync(page, "sound-390");
        Assert.True(await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= innerWidth"));
    }

    /// <summary>A job of which two parts of sound were recorded, of four and of three seconds, from a second after the sound check.</summary>
    private async Task<RecordedJob> RecordAsync()
    {
        Directory.CreateDirectory(Folder);
        var bench = await new EngineBench { Sound = new SoundPolicy(14, "Petra Ash") }.OpenAsync();
        Assert.Equal(NeedKind.SoundCheck, bench.Job!.Question!.Need.Kind);
        await bench.AnswerRightlyAsync();
        var began = bench.Clock.Now().Boot + Ticks.OfSeconds(1);
        bench.Clock.Pass(9);
        await KeepAsync(bench, First, began, 4);
        await KeepAsync(bench, Second, began + Ticks.OfSeconds(4), 3);
        await bench.PassAsync(5);
        await bench.DoAsync(new CloseJob("false alarm"));
        return RecordedJob.Of("job-1", bench.Journal.Read("job-1"));
    }

    private async Task KeepAsync(EngineBench bench, string file, Ticks from, int seconds)
    {
        var wav = ReplayPageTests.Wav(seconds * Rate);
        await File.WriteAllBytesAsync(Path.Combine(Folder, file), wav);
        await bench.DoAsync(new KeepSound("job-1", new SoundRecorded(
            file, bench.Clock.Now().BootId, from, from + Ticks.OfSeconds(seconds), Convert.ToHexStringLower(SHA256.HashData(wav)), 0, false)));
    }
}
