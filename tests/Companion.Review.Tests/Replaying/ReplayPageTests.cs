using System.Buffers.Binary;
using System.Globalization;
using System.Net;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Pages.Replay;
using Companion.TestKit;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Review.Tests.Replaying;

/// <summary>The replay as somebody uses it who looks back.</summary>
public sealed class ReplayPageTests(ReplayBrowser browser) : IClassFixture<ReplayBrowser>
{
    [Fact]
    public async Task A_job_is_played_stepped_and_jumped_through_and_always_says_that_it_is_not_live()
    {
        var record = await RecordAsync();
        await using var host = await ReplayHost.StartAsync(record, _ => null);
        var page = await browser.OpenAsync(host);
        var picture = page.Locator("[data-picture]");

        var next = (await picture.GetAttributeAsync("data-next"))!;
        await page.Keyboard.PressAsync("ArrowRight");
        await Expect(picture).ToHaveAttributeAsync("data-sequence", next);
        await page.Keyboard.PressAsync("r");
        var refusal = record.Entries.First(entry => entry.Entry.Type is "step.refused" or "dead.refused" or "code.failed").Sequence;
        await Expect(picture).ToHaveAttributeAsync("data-sequence", refusal.ToString(CultureInfo.InvariantCulture));
        await Expect(page.GetByText("Replay. Nothing here is live.")).ToBeVisibleAsync();
        await ReplayBrowser.KeepAsync(page, "refusal-1280");
        Assert.Empty((await page.RunAxe()).Violations.Select(found => $"{found.Id}: {string.Join(' ', found.Nodes.Select(node => node.Html))}"));

        await MomentAsync(page, record.Entries.Last(entry => entry.Happened is WorkCleared).Sequence + 1);
        await Expect(picture).ToContainTextAsync("At that time");
        await ReplayBrowser.KeepAsync(page, "cleared-1280");
        await page.Keyboard.PressAsync("a");
        await Expect(picture).ToContainTextAsync("Recorded: Alert: ");
        await Expect(picture).ToContainTextAsync("One of several entries that were written at once");
        await Expect(picture).Not.ToContainTextAsync("At that time");
        await ReplayBrowser.KeepAsync(page, "alert-1280");
        await MomentAsync(page, 0, (long)record.Entries[^1].Since.TotalMilliseconds - 100_000);
        await Expect(picture).ToContainTextAsync("The Companion was off");
        await ReplayBrowser.KeepAsync(page, "off-1280");

        await MomentAsync(page, 1);
        await page.ClickAsync("[data-speed='60']");
        await page.ClickAsync("[data-do=play]");
        await page.WaitForFunctionAsync("() => Number(document.querySelector('[data-picture]').dataset.sequence) > 20");
        await page.ClickAsync("[data-do=play]");
        await Expect(page.Locator("[data-do=play]")).ToHaveAttributeAsync("aria-pressed", "false");
        await page.SetViewportSizeAsync(390, 844);
        await ReplayBrowser.KeepAsync(page, "phone-390");
        await page.Keyboard.PressAsync("End");
        await ReplayBrowser.KeepAsync(page, "phone-390-end");
        await page.ClickAsync("[data-jump=to-step]");
        await Expect(page.GetByText("Replay. Nothing here is live.")).ToBeInViewportAsync();
        Assert.True(await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= innerWidth"));
    }

    [Fact]
    public async Task Prompts_are_spoken_again_at_one_time_and_where_there_is_no_speech_it_is_said()
    {
        var record = await RecordAsync();
        var asked = new List<string>();
        await using var host = await ReplayHost.StartAsync(record, words =>
        {
            lock (asked)
            {
                asked.Add(words);
                return asked.Count == 1 ? Tone() : null;
            }
        });
        var page = await browser.OpenAsync(host);
        var spoken = record.Entries.Where(entry => entry.Happened is PromptSpoken).ToList();
        var alone = spoken.Zip(spoken.Skip(1)).First(pair => pair.Second.Since - pair.First.Since > TimeSpan.FromSeconds(8)).Second;
        await MomentAsync(page, 0, (long)alone.Since.TotalMilliseconds - 3000);
        await Expect(page.Locator("[data-picture]")).ToHaveAttributeAsync("data-prompt", alone.Sequence.ToString(CultureInfo.InvariantCulture));
        await page.ClickAsync("[data-do=play]");

        await Expect(page.Locator("[data-replay]")).ToHaveAttributeAsync("data-said", "1");
        await Expect(page.Locator("[data-sound-note]")).ToContainTextAsync(ReplayRoutes.NoSpeech);
        Assert.Equal(((PromptSpoken)alone.Happened!).Text, asked[0]);
    }

    [Fact]
    public async Task Only_what_was_spoken_is_spoken_again()
    {
        var record = await RecordAsync();
        await using var host = await ReplayHost.StartAsync(record, _ => Tone());
        using var client = new HttpClient { BaseAddress = host.Address };
        var spoken = record.Entries.First(entry => entry.Entry.Type == "prompt.spoken").Sequence;

        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/record/{record.Chain}/said/{spoken}.wav")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/record/{record.Chain}/said/1.wav")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/record/{record.Chain}/said/999999.wav")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync("/record/another/at/1")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync($"/record/{record.Chain}/at?ms={long.MaxValue}")).StatusCode);
    }

    private static Task MomentAsync(IPage page, long sequence, long at = 0) => page.EvaluateAsync(
        "([sequence, at]) => document.dispatchEvent(new CustomEvent('moment', { detail: { sequence, at, from: 'timeline' } }))", new[] { sequence, at });

    /// <summary>A job with a claim that came too early, up to clear to work; then the key is turned on, and the tablet goes off for five minutes.</summary>
    private static async Task<RecordedJob> RecordAsync()
    {
        var bench = await (await new EngineBench().OpenAsync()).UntilAsync(NeedKind.WaitOver);
        await bench.PassAsync(12);
        await bench.SayAsync(Phrase.ProvedDead);
        await bench.UntilAsync(NeedKind.Working);
        await bench.PassAsync(3);
        await bench.SayAsync(Phrase.KeyOn);
        bench.Clock.Pass(300);
        var again = await new EngineBench(bench.Journal.Reopen(), bench.Clock).StartAsync();
        return RecordedJob.Of("job-1", again.Journal.Read("job-1"));
    }

    /// <summary>A quarter of a second of silence as a WAV file.</summary>
    private static byte[] Tone() => Wav(4000);

    /// <summary>Silence of so many samples at 16 kHz as a WAV file.</summary>
    internal static byte[] Wav(int samples)
    {
        var file = new byte[44 + (2 * samples)];
        "RIFF"u8.CopyTo(file);
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(4), file.Length - 8);
        "WAVEfmt "u8.CopyTo(file.AsSpan(8));
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(16), 16);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(20), 1);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(22), 1);
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(24), 16000);
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(28), 32000);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(32), 2);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(34), 16);
        "data"u8.CopyTo(file.AsSpan(36));
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(40), 2 * samples);
        return file;
    }
}
