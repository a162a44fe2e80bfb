using System.Text;
using Companion.Contracts;
using Companion.Domain.Retention;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Journal.Retention;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;
using CsCheck;

namespace Companion.Journal.Tests;

/// <summary>How long a tablet keeps personal texts, and that erasing them changes no chain.</summary>
public sealed class RetentionTests
{
    private static readonly RetentionPolicy Policy = new(Names: 365, Heard: 30, Places: 90, Alerts: 365, Recordings: 30);

    [Theory]
    [InlineData(29, "Maren Oake", "Mill Lane", "gloves on")]
    [InlineData(30, "Maren Oake", "Mill Lane", null)]
    [InlineData(90, "Maren Oake", null, null)]
    [InlineData(365, null, null, null)]
    public async Task Each_kind_is_erased_when_its_days_after_the_end_of_the_job_have_passed(int days, string? name, string? place, string? heard)
    {
        var disk = new SimulatedDisk();
        await using (var store = await Stores.Open(disk))
        {
            await Record(store, "job-1");
            await EraseDue(store, days);
            var entries = store.Read("job-1");
            Assert.Equal((name, place, heard), (Text(entries[0], "name"), Text(entries[0], "place"), Text(entries[1], "text")));
        }

        foreach (var gone in new[] { ("Maren Oake", name), ("Mill Lane", place), ("gloves on", heard) }.Where(text => text.Item2 is null))
        {
            Assert.All(disk.Files(), file => Assert.True(disk.Bytes(file).AsSpan().IndexOf(Encoding.UTF8.GetBytes(gone.Item1)) < 0, $"{gone.Item1} in {file}"));
        }

        Assert.True(JournalVerifier.Verify(Stores.Folder, disk).IsSound);
        await using var again = await Stores.Open(disk);
        Assert.Empty(again.Findings);
        Assert.Equal(name, Text(again.Read("job-1")[0], "name"));
        Assert.Equal(place, Text(again.Read("job-1")[0], "place"));
    }

    [Fact]
    public async Task An_erasure_is_told_in_the_tablets_chain_without_the_texts()
    {
        await using var store = await Stores.Open(new SimulatedDisk());
        await Record(store, "job-1");
        await EraseDue(store, 100);
        var told = Assert.Single(store.Read(Chains.Tablet), entry => entry.Type == Erasure.EntryType);
        Assert.Equal("""{"chain":"job-1","texts":{"heard":1,"places":1},"why":"due"}""", told.Data);
        await EraseDue(store, 100);
        Assert.Single(store.Read(Chains.Tablet), entry => entry.Type == Erasure.EntryType);
    }

    [Fact]
    public async Task A_request_erases_all_of_a_job_and_keeps_who_asked_and_why_erasable()
    {
        await using var store = await Stores.Open(new SimulatedDisk());
        await Record(store, "job-1");
        var retention = new TabletRetention(store, new Later(0));
        await retention.EraseAsync(retention.Asked("job-1"), "Petra Ash", "asked by letter");
        Assert.All(store.Read("job-1"), entry => Assert.Empty(entry.Sealed));
        var told = Assert.Single(store.Read(Chains.Tablet), entry => entry.Type == Erasure.EntryType);
        Assert.Equal(("Petra Ash", "asked by letter"), (Text(told, "person"), Text(told, "reason")));
        Assert.DoesNotContain("Petra", told.Data);
        Assert.Contains("\"why\":\"request\"", told.Data);
    }

    [Theory]
    [InlineData(false, false, "the job is open")]
    [InlineData(true, true, "nobody has taken an alert of the job")]
    public async Task What_is_on_hold_is_not_erased(bool isClosed, bool hasAlert, string hold)
    {
        await using var store = await Stores.Open(new SimulatedDisk());
        await Record(store, "job-1", isClosed, hasAlert);
        var found = Assert.Single(await EraseDue(store, 5000));
        Assert.Equal(hold, found.Hold);
        Assert.Equal("Maren Oake", Text(store.Read("job-1")[0], "name"));
        Assert.DoesNotContain(store.Read(Chains.Tablet), entry => entry.Type == Erasure.EntryType);
    }

    [Theory]
    [InlineData("alert.taken", "alert")]
    [InlineData("call.taken", "call")]
    public async Task An_alert_that_somebody_took_holds_no_longer(string type, string member)
    {
        await using var store = await Stores.Open(new SimulatedDisk());
        await Record(store, "job-1", isClosed: false, hasAlert: true);
        var alert = store.Read("job-1").Single(entry => entry.Type == "alert.raised").Sequence;
        await store.AppendAsync([Drafts.Of("job-1", type, $$"""{"{{member}}":{{alert}}}"""), Drafts.Of("job-1", "job.closed")]);
        await EraseDue(store, 5000);
        Assert.Null(Text(store.Read("job-1")[0], "name"));
    }

    // An open job is never on request's mercy; an alert is, because a named person answers for it then.
    [Fact]
    public async Task A_request_ends_the_hold_of_an_alert_and_not_that_of_an_open_job()
    {
        await using var store = await Stores.Open(new SimulatedDisk());
        await Record(store, "open", isClosed: false);
        await Record(store, "alerted", hasAlert: true);
        var retention = new TabletRetention(store, new Later(0));
        Assert.Equal("the job is open", retention.Asked("open").Hold);
        Assert.True(retention.Asked("open").Erasure.IsEmpty);
        Assert.Null(retention.Asked("alerted").Hold);
        Assert.False(retention.Asked("alerted").Erasure.IsEmpty);
    }

    [Fact]
    public async Task An_earlier_copy_of_the_texts_brings_back_nothing_that_was_erased_in_part()
    {
        var disk = new SimulatedDisk();
        await using (var store = await Stores.Open(disk))
        {
            await Record(store, "job-1");
        }

        var earlier = disk.Bytes(Stores.Folder + "/companion.sealed");
        await using (var store = await Stores.Open(disk))
        {
            await EraseDue(store, 100);
        }

        disk.Put(Stores.Folder + "/companion.sealed", earlier);
        await using var again = await Stores.Open(disk);
        Assert.Equal(["name", "secondperson"], again.Read("job-1")[0].Sealed.Keys);
        Assert.All(disk.Files(), file => Assert.True(disk.Bytes(file).AsSpan().IndexOf("Mill Lane"u8) < 0, file));
    }

    // I12: a power cut in the middle of an erasure loses no text that was to stay and damages nothing; the next run finishes it.
    [Fact]
    public async Task A_power_cut_at_any_point_of_an_erasure_is_made_good_by_the_next_run() => await Gen.Int[0, 10_000].SampleAsync(
        async seed =>
        {
            var disk = new SimulatedDisk();
            await using (var store = await Stores.Open(disk))
            {
                await Record(store, "job-1");
            }

            var after = await Cut(disk, seed);
            await using (var store = await Stores.Open(after))
            {
                Assert.DoesNotContain(store.Findings, finding => finding.Severe);
                await EraseDue(store, 100);
                Assert.Equal(["name", "secondperson"], store.Read("job-1")[0].Sealed.Keys);
                Assert.Empty(store.Read("job-1")[1].Sealed);
            }

            Assert.True(JournalVerifier.Verify(Stores.Folder, after).IsSound);
        },
        iter: 40);

    [Fact]
    public async Task What_a_store_holds_about_a_person_is_named_texts_and_what_was_done_under_their_id()
    {
        await using var store = await Stores.Open(new SimulatedDisk());
        await Record(store, "job-1");
        await store.AppendAsync([
            Drafts.Of("job-1", "point.locked", """{"point":"p1","lock":"21","tag":"21","holder":"maren"}"""),
            Drafts.Of("job-1", "point.locked", """{"point":"p1","lock":"22","tag":"22","holder":"tobin"}"""),
            Drafts.Heard("job-1", "Maren Oakes is somebody else"),
            Drafts.Heard("job-1", "this is maren oake speaking")]);
        var entries = store.ChainNames().SelectMany(chain => store.Read(chain)).ToList();
        var extract = new PersonExtract("Maren Oake", entries);
        var lines = entries.Select(extract.LineOf).OfType<ReadOnlyMemory<byte>>().Select(line => Encoding.UTF8.GetString(line.Span)).ToList();
        Assert.Equal(3, lines.Count);
        Assert.Contains("Mill Lane", lines[0]);
        Assert.DoesNotContain("Della Frome", lines[0]);
        Assert.Contains("\"lock\":\"21\"", lines[1]);
        Assert.Contains("this is maren oake speaking", lines[2]);
        Assert.All(lines, line => ExportLine.Parse(Encoding.UTF8.GetBytes(line)));
    }

    [Fact]
    public void Recordings_go_by_their_days_unless_their_job_is_on_hold()
    {
        using var folder = new TemporaryFolder();
        var kept = Directory.CreateDirectory(Path.Combine(folder.Path, "recordings")).FullName;
        foreach (var name in new[] { "job-1.wav", "job-2.wav" })
        {
            File.WriteAllText(Path.Combine(kept, name), "sound");
            File.SetLastWriteTimeUtc(Path.Combine(kept, name), FixedClock.Start.UtcDateTime);
        }

        var files = new RecordingFiles(folder.Path);
        Assert.Empty(files.Due(Policy, [], FixedClock.Start.AddDays(29)));
        Assert.Equal([Path.Combine(kept, "job-1.wav")], files.Due(Policy, ["job-2"], FixedClock.Start.AddDays(30)));
    }

    private static async Task<SimulatedDisk> Cut(SimulatedDisk disk, int seed)
    {
        var store = await Stores.Open(disk);
        disk.CutAt = disk.Operations + 1 + (seed % 40);
        try
        {
            await EraseDue(store, 100);
        }
        catch (StoreFaultException)
        {
            // The power went.
        }

        return disk.IsCut ? disk.AfterCut(new Random(seed)) : disk.Copy();
    }

    private static async Task<IReadOnlyList<ChainErasure>> EraseDue(JournalStore store, int days)
    {
        var retention = new TabletRetention(store, new Later(days));
        var due = retention.Due(Policy);
        foreach (var found in due)
        {
            await retention.EraseAsync(found);
        }

        return due;
    }

    private static string? Text(JournalEntry entry, string member) => entry.Sealed.TryGetValue(member, out var text) ? text.Text : null;

    private static async Task Record(JournalStore store, string job, bool isClosed = true, bool hasAlert = false)
    {
        await store.AppendAsync([Drafts.Of(job, "job.opened", """{"technician":"maren"}""") with
        {
            Personal = new Dictionary<string, string> { ["name"] = "Maren Oake", ["secondperson"] = "Della Frome", ["place"] = "Mill Lane" },
        }]);
        await store.AppendAsync([Drafts.Heard(job, "gloves on")]);
        if (hasAlert)
        {
            await store.AppendAsync([Drafts.Of(job, "alert.raised", """{"kind":"help","alert":"Help."}""")]);
        }

        if (isClosed)
        {
            await store.AppendAsync([Drafts.Of(job, "job.closed")]);
        }
    }

    private sealed class Later(int days) : IClock
    {
        public Moment Now() => new FixedClock().Now() with { Wall = FixedClock.Start.AddDays(days) };
    }
}
