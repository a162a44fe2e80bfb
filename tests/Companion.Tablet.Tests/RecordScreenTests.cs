using System.Net;
using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Sound;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Heads;
using Companion.Papers.Coding;
using Companion.Papers.Words;
using Companion.Review;
using Companion.Tablet.Tests.Support;
using Companion.Tablet.Web;
using Companion.TestKit;

namespace Companion.Tablet.Tests;

/// <summary>The tablet's own records, asked for as a browser asks, from a real store with a job that the real loop recorded.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class RecordScreenTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    private const string Heard = "so dark here";
    private readonly HttpClient _http = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false });
    private readonly string _store = Directory.CreateTempSubdirectory("records").FullName;
    private TabletRig _rig = null!;

    public async Task InitializeAsync()
    {
        var bench = await (await new EngineBench { Sound = new SoundPolicy(14, "Petra Ash") }.OpenAsync()).UntilAsync(NeedKind.WaitOver);
        await bench.DoAsync(new KeepSound("job-1", new SoundRecorded("1_boot.wav", "boot", Ticks.Zero, Ticks.OfSeconds(60), new string('a', 64), 0, false)));
        await bench.SayAsync(Phrase.ProvedDead);
        await bench.HearAsync("noise", Heard, Engine.Ports.HearingOutcome.Unsure);
        await using (var journal = await JournalStore.OpenAsync(_store, new StoreOptions(bench.Clock) { Kind = StoreKind.Real }))
        {
            foreach (var entry in bench.Journal.Read("job-1").Where(entry => EventCodec.Read(entry) is not null))
            {
                await journal.AppendAsync([EventCodec.Draft("job-1", EventCodec.Read(entry)!, EventCodec.MomentOf(entry))]);
            }
        }

        _rig = await TabletRig.StartAsync(records: new StoreRecords(_store));
    }

    public async Task DisposeAsync()
    {
        _http.Dispose();
        await _rig.DisposeAsync();
        Directory.Delete(_store, recursive: true);
    }

    // I10: the quiet word stands in it in clear.
    [Fact]
    public async Task No_page_of_the_tablet_gives_out_recorded_sound()
    {
        Directory.CreateDirectory(SoundFolder.Of(_store, "job-1"));
        await File.WriteAllBytesAsync(Path.Combine(SoundFolder.Of(_store, "job-1"), "1_boot.wav"), new byte[100]);
        var part = new StoreRecords(_store).Open(new(string.Empty, "job-1"))!.Entries.First(entry => entry.Happened is SoundRecorded);
        foreach (var address in new[] { $"/record/job-1/sound/{part.Sequence}.wav", "/sound/job-1/1_boot.wav" })
        {
            Assert.Equal(HttpStatusCode.NotFound, (await GetAsync(address)).StatusCode);
        }
    }

    [Fact]
    public async Task From_the_start_screen_the_records_are_reached_and_the_way_leads_back()
    {
        var page = await browser.OpenAsync(_rig);
        await page.ClickAsync("a[href='record']");
        await page.ClickAsync("a[href$='/record/job-1']");
        await page.WaitForSelectorAsync("#line svg");
        await page.WaitForSelectorAsync("[data-stage]");
        if (Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, "tablet-record.png"), FullPage = true });
        }

        await page.ClickAsync("text=Back");
        await page.WaitForSelectorAsync("a[href='record']");
    }

    // I10: what somebody said, the quiet word among it, is on no page of the tablet.
    [Fact]
    public async Task An_own_job_is_looked_back_at_with_its_refusal_and_without_personal_texts()
    {
        Assert.Contains("href=\"/record/job-1\"", await TextAsync("/record"), StringComparison.Ordinal);
        var page = await TextAsync("/record/job-1");
        Assert.Contains("Proved dead refused", page, StringComparison.Ordinal);
        Assert.Contains("data-replay", page, StringComparison.Ordinal);
        Assert.Contains("Worth talking about", page, StringComparison.Ordinal);
        Assert.DoesNotContain(Heard, page, StringComparison.Ordinal);
        Assert.DoesNotContain("Ines", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_replay_and_the_timeline_give_their_parts_and_their_scripts()
    {
        Assert.Contains("Replay. Nothing here is live.", await TextAsync("/record/job-1/at?ms=0"), StringComparison.Ordinal);
        Assert.Contains("<svg", await TextAsync("/record/job-1/line?from=0&to=1000"), StringComparison.Ordinal);
        foreach (var file in new[] { "/print.css", "/print-label.css", "/record.css", "/replay.css", "/remarks.css", "/timeline.js", "/replay.js", "/sound.js", "/remarks.js" })
        {
            Assert.NotEmpty(await TextAsync(file));
        }
    }

    // Damage at the very end of the journal breaks no link and hides no entry that anything names: only the bytes tell it.
    [Fact]
    public async Task Damage_behind_the_last_entry_stands_at_the_top_of_the_page()
    {
        Assert.DoesNotContain("The record itself", await TextAsync("/record/job-1"), StringComparison.Ordinal);
        await File.AppendAllTextAsync(Path.Combine(_store, "companion.witness"), "what is this");
        var page = await TextAsync("/record/job-1");
        Assert.Contains("12 bytes of this tablet's journal", page, StringComparison.Ordinal);
        Assert.Contains("Proved dead refused", page, StringComparison.Ordinal);
    }

    // The papers of a tablet say what its record page says: no personal text is on them, and their code is signed with the store's own key.
    [Fact]
    public async Task Every_paper_of_an_own_job_is_there_as_page_and_PDF_without_personal_texts()
    {
        var record = await TextAsync("/record/job-1");
        foreach (var name in new[] { "handover", "report", "label" })
        {
            Assert.Contains($"href=\"/record/job-1/papers/{name}.pdf\"", record, StringComparison.Ordinal);
            var page = await TextAsync($"/record/job-1/papers/{name}");
            Assert.Contains("<svg", page, StringComparison.Ordinal);
            Assert.DoesNotContain(Heard, page, StringComparison.Ordinal);
            Assert.DoesNotContain("Ines", page, StringComparison.Ordinal);
            Assert.StartsWith("%PDF-", await TextAsync($"/record/job-1/papers/{name}.pdf"), StringComparison.Ordinal);
        }

        var job = new StoreRecords(_store).Open(new RecordName(string.Empty, "job-1"))!;
        var code = StorePaperSigner.CodeOf(_store, job)!;
        Assert.Equal(code.Statement, PaperCode.Read(code.Text, _ => PublicKey()).Statement);
    }

    // Whoever can write to the disk can make every hash fit again, but has no key: the signature under the job's end tells.
    [Fact]
    public async Task Papers_of_a_job_whose_signed_end_was_forged_say_so_and_claim_nothing()
    {
        Assert.DoesNotContain("does not hold", await TextAsync("/record/job-1/papers/handover"), StringComparison.Ordinal);
        var forged = ForgeSignature();
        Assert.Contains("See the hand-over sheet before anything on this label is believed.", await TextAsync("/record/job-1/papers/label"), StringComparison.Ordinal);
        foreach (var name in new[] { "handover", "report" })
        {
            Assert.Contains(
                $"The end of this job that the tablet's own entry {forged} names does not hold: its signature does not fit.", await TextAsync($"/record/job-1/papers/{name}"), StringComparison.Ordinal);
        }

        var job = new StoreRecords(_store).Open(new RecordName(string.Empty, "job-1"))!;
        Assert.Equal(PaperState.NotTold, StorePaperSigner.CodeOf(_store, job)!.Statement.State);
    }

    // Bytes that fit their own hash and checksum, in a chain that they are not of: the first link of the job leads nowhere.
    [Fact]
    public async Task Papers_of_a_job_whose_chain_does_not_begin_where_a_chain_begins_say_so()
    {
        Rewrite(entry => entry is { Chain: "job-1", Sequence: 1 } ? Again(entry, entry.Data, new string('f', 64)) : entry);
        Assert.Contains("This job's chain does not hold from entry 1 on", await TextAsync("/record/job-1/papers/handover"), StringComparison.Ordinal);
    }

    // A record would hide warnings: while a job is open its own screen stays up.
    [Theory]
    [InlineData("/record")]
    [InlineData("/record/job-1")]
    [InlineData("/record/job-1/at?ms=0")]
    [InlineData("/record/job-1/papers/handover")]
    [InlineData("/record/job-1/papers/label.pdf")]
    public async Task While_a_job_is_open_every_record_leads_back_to_it(string path)
    {
        await _rig.OpenAsync();
        Assert.Equal(HttpStatusCode.Redirect, (await GetAsync(path)).StatusCode);
    }

    [Fact]
    public async Task A_record_that_is_not_there_says_so() => Assert.Equal(HttpStatusCode.NotFound, (await GetAsync("/record/job-9")).StatusCode);

    /// <summary>Puts the signature of one signed end of the job under another; returns that one's sequence.</summary>
    private long ForgeSignature()
    {
        string? signature = null;
        var forged = 0L;
        Rewrite(entry =>
        {
            if (entry.Type != EntryTypes.HeadSigned || HeadStatement.Of(entry).Job != "job-1")
            {
                return entry;
            }

            var data = JsonNode.Parse(entry.Data)!.AsObject();
            var own = (string)data["signature"]!;
            data["signature"] = signature ?? Convert.ToBase64String(Convert.FromBase64String(own).Reverse().ToArray());
            (signature, forged) = (own, entry.Sequence);
            return Again(entry, data.ToJsonString(), entry.PreviousHash);
        });
        return forged;
    }

    /// <summary>An entry as somebody would write it who knows the format: its hash fits.</summary>
    private static JournalEntry Again(JournalEntry entry, string data, string previousHash) => EntryCodec.Encode(
        new EntryDraft(entry.Chain, entry.Type, entry.Time, entry.BootId, entry.Uptime, data, new Dictionary<string, string>()),
        new EntryPlace(EntryCodec.TabletOf(entry), entry.Rehearsal, entry.Sequence, previousHash));

    private void Rewrite(Func<JournalEntry, JournalEntry> change)
    {
        var (disk, path) = (new LocalDisk(), Path.Combine(_store, "companion.witness"));
        List<byte[]> payloads;
        using (var file = disk.OpenRead(path))
        {
            payloads = [.. new FrameReader(file).Whole()];
        }

        FrameFile.WriteNew(disk, path, payloads.Select(payload => (ReadOnlyMemory<byte>)EntryBatch.Join([.. EntryBatch.Parse(payload).Select(change)])));
    }

    private string PublicKey()
    {
        using var key = SigningKey.Read(new LocalDisk(), Path.Combine(_store, "tablet.key"))!;
        return key.PublicKey;
    }

    private async Task<string> TextAsync(string path)
    {
        var answer = await GetAsync(path);
        Assert.True(answer.IsSuccessStatusCode, $"{path}: {answer.StatusCode}");
        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());
    }

    private Task<HttpResponseMessage> GetAsync(string path)
    {
        var ask = new HttpRequestMessage(HttpMethod.Get, new Uri(TabletWeb.BeatAddress(_rig.Web), path));
        ask.Headers.Add("X-Companion-Token", _rig.Token);
        return _http.SendAsync(ask);
    }
}
