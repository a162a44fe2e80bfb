using System.Text;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests;

public sealed class AppendTests
{
    [Fact]
    public async Task An_append_takes_three_syncs_and_one_more_for_personal_texts()
    {
        var disk = new SimulatedDisk();
        await using var store = await Stores.Open(disk);
        await store.AppendAsync([Drafts.Of("job-1", "job.opened")]);
        var before = disk.Syncs;
        await store.AppendAsync([Drafts.Of("job-1", "clock.anchored"), Drafts.Of("job-1", "clock.anchored")]);
        Assert.Equal(before + 3, disk.Syncs);
        await store.AppendAsync([Drafts.Heard("job-1", "gloves on")]);
        Assert.Equal(before + 7, disk.Syncs);
    }

    [Fact]
    public async Task A_draft_outside_the_rules_is_refused_and_the_store_goes_on()
    {
        var disk = new SimulatedDisk();
        await using var store = await Stores.Open(disk);
        var refusal = await Assert.ThrowsAsync<ArgumentException>(
            async () => await store.AppendAsync([Drafts.Of("job-1", "job.opened"), Drafts.Of("job-1", "reading.taken", """{"volts":12.5}""")]));
        Assert.Contains("12.5", refusal.Message);
        Assert.Empty(store.Read("job-1"));
        Assert.Single(await store.AppendAsync([Drafts.Of("job-1", "job.opened")]));
    }

    [Fact]
    public async Task After_a_failed_append_nothing_is_taken_until_the_store_is_opened_again()
    {
        var disk = new SimulatedDisk();
        await using (var store = await Stores.Open(disk))
        {
            await store.AppendAsync([Drafts.Of("job-1", "job.opened")]);
            disk.FullFrom = disk.Operations + 1;
            var fault = await Assert.ThrowsAsync<StoreFaultException>(async () => await store.AppendAsync([Drafts.Of("job-1", "clock.anchored")]));
            Assert.Contains("The disk is full. Free some space", fault.Message);
            disk.FullFrom = null;
            await Assert.ThrowsAsync<StoreFaultException>(async () => await store.AppendAsync([Drafts.Of("job-1", "clock.anchored")]));
        }

        await using var again = await Stores.Open(disk);
        Assert.Equal(["job.opened"], again.Read("job-1").Select(e => e.Type));
        Assert.Equal(2, (await again.AppendAsync([Drafts.Of("job-1", "clock.anchored")]))[0].Sequence);
    }

    [Fact]
    public async Task Heads_are_signed_at_the_start_hourly_and_at_the_end_of_a_job()
    {
        var disk = new SimulatedDisk();
        await using var store = await Stores.Open(disk);
        await store.AppendAsync([Drafts.Of("job-1", "job.opened")]);
        await store.AppendAsync([Drafts.Of("job-1", "clock.anchored", seconds: 3599)]);
        await store.AppendAsync([Drafts.Of("job-1", "clock.anchored", seconds: 3600)]);
        await store.AppendAsync([Drafts.Of("job-1", "job.closed", seconds: 3700)]);
        var heads = store.Read(Chains.Tablet).Where(e => e.Type == "head.signed").Select(e => Heads.HeadStatement.Of(e).Head).ToList();
        Assert.Equal([1, 3, 4], heads.Select(h => h.Sequence));
        Assert.Equal(store.Read("job-1")[3].Hash, heads[2].Hash);
    }

    [Fact]
    public async Task Heads_of_open_jobs_can_be_recorded_at_any_time()
    {
        var disk = new SimulatedDisk();
        await using var store = await Stores.Open(disk);
        await store.AppendAsync([Drafts.Of("job-1", "job.opened"), Drafts.Of("job-2", "job.opened"), Drafts.Of("job-2", "job.closed")]);
        var before = store.Read(Chains.Tablet).Count;
        await store.RecordHeadsAsync();
        Assert.Equal(["job-1"], store.Read(Chains.Tablet, before + 1).Select(e => Heads.HeadStatement.Of(e).Job));
    }

    [Fact]
    public async Task Erasing_a_personal_text_leaves_no_trace_of_it_and_the_chain_provable()
    {
        var disk = new SimulatedDisk();
        await using (var store = await Stores.Open(disk))
        {
            await store.AppendAsync([Drafts.Of("job-1", "job.opened"), Drafts.Heard("job-1", "the quick quiet word"), Drafts.Heard("job-1", "stays")]);
            Assert.True(await store.EraseSealedAsync("job-1", 2));
            Assert.False(await store.EraseSealedAsync("job-1", 2));
            Assert.False(await store.EraseSealedAsync("job-1", 99));
            Assert.Empty(store.Read("job-1")[1].Sealed);
            Assert.Equal("stays", store.Read("job-1")[2].Sealed["text"].Text);
        }

        Assert.All(disk.Files(), f => Assert.True(disk.Bytes(f).AsSpan().IndexOf("quick quiet"u8) < 0, f));
        Assert.True(JournalVerifier.Verify(Stores.Folder, disk).IsSound);
        await using var again = await Stores.Open(disk);
        Assert.Empty(again.Findings);
        Assert.Empty(again.Read("job-1")[1].Sealed);
    }

    [Fact]
    public async Task An_export_shows_personal_texts_only_when_asked()
    {
        var disk = await Stores.Small();
        Assert.DoesNotContain("gloves on", Export(disk, includeSealed: false));
        Assert.Contains("\"sealed\":{\"text\":{\"salt\":", Export(disk, includeSealed: true));
        Assert.Contains("gloves on", Export(disk, includeSealed: true));
        var job = Export(disk, includeSealed: false, "job-1");
        Assert.Equal(4, job.Count(c => c == '\n'));
        Assert.DoesNotContain("\"id\":\"tablet/", job);
    }

    [Fact]
    public async Task Appends_from_many_callers_keep_each_batch_together_and_the_chain_whole()
    {
        var disk = new SimulatedDisk();
        await using (var store = await Stores.Open(disk))
        {
            var batches = await Task.WhenAll(Enumerable.Range(0, 40).Select(i => Task.Run(
                async () => await store.AppendAsync([Drafts.Of("job-1", "clock.anchored"), Drafts.Of("job-1", "clock.anchored")]))));
            Assert.All(batches, b => Assert.Equal(b[0].Sequence + 1, b[1].Sequence));
            Assert.Equal(80, store.Read("job-1").Count);
        }

        Assert.True(JournalVerifier.Verify(Stores.Folder, disk).IsSound);
    }

    [Fact]
    public async Task The_signing_key_is_readable_by_its_owner_only()
    {
        using var folder = new TemporaryFolder();
        await using var store = await JournalStore.OpenAsync(folder.Path, new StoreOptions(new FixedClock()) { Kind = StoreKind.Real });
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Path.Combine(folder.Path, "tablet.key")));
        }
    }

    [Fact]
    public void The_checksum_is_the_published_one() =>
        // CRC-32C check value of "123456789", RFC 3720 polynomial, from memory.
        Assert.Equal(0xE3069283u, Crc32C.Of("123456789"u8));

    [Fact]
    public void A_real_full_disk_is_known_by_its_error_number()
    {
        if (OperatingSystem.IsLinux())
        {
            using var file = new LocalDisk().OpenShared("/dev/full");
            Assert.Equal(28, Assert.Throws<IOException>(() => file.Write(0, "x"u8)).HResult);
        }
    }

    private static string Export(SimulatedDisk disk, bool includeSealed, string? chain = null)
    {
        using var output = new MemoryStream();
        JournalExport.Write(Stores.Folder, output, chain, includeSealed, disk);
        return Encoding.UTF8.GetString(output.ToArray());
    }
}
