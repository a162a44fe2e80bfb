using Companion.Contracts;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests;

/// <summary>I12: damage is noticed, kept, and never repaired by guessing.</summary>
public sealed class DamageTests
{
    private const string Witness = Stores.Folder + "/companion.witness";
    private const string Data = Stores.Folder + "/companion.db";

    [Fact]
    public async Task A_damaged_witness_is_kept_and_the_chains_go_on_from_what_litedb_holds()
    {
        var disk = await Stores.Small();
        var middle = disk.Bytes(Witness).Length / 2;
        disk.Damage(Witness, bytes => bytes[middle] ^= 1);
        var damaged = disk.Bytes(Witness);
        await using (var store = await Stores.Open(disk))
        {
            var finding = Assert.Single(store.Findings);
            Assert.True(finding.Severe);
            Assert.Contains("kept untouched", finding.Message);
            Assert.Equal(["job.opened", "speech.heard", "clock.anchored", "job.closed"], store.Read("job-1").Select(e => e.Type));
            Assert.Equal("gloves on", store.Read("job-1")[1].Sealed["text"].Text);
            Assert.Equal(["segment.started", "head.signed"], store.Read(Chains.Tablet).TakeLast(2).Select(e => e.Type));
            await store.AppendAsync([Drafts.Of("job-2", "job.opened")]);
        }

        Assert.Equal(damaged, disk.Bytes(Witness));
        var report = JournalVerifier.Verify(Stores.Folder, disk);
        Assert.True(report.IsSound, string.Join("\n", report.Lines()));
        Assert.Contains(report.Notes, n => n.Contains("starts a new segment", StringComparison.Ordinal));
        await using var again = await Stores.Open(disk);
        Assert.Empty(again.Findings);
    }

    [Fact]
    public async Task After_damage_to_both_copies_a_chain_continues_above_the_highest_sequence_seen_anywhere()
    {
        var disk = await Stores.Small();
        DamageEntry(disk, sequence: 2);
        disk.Damage(Data, bytes => bytes[8192] ^= 1);
        await using (var store = await Stores.Open(disk))
        {
            Assert.Contains(store.Findings, f => f.Severe);
            var job = store.Read("job-1");

            // Entries 3 and 4 are readable but follow nothing that holds: they stay in the old set, and their numbers are not used again.
            Assert.Equal([(1L, "job.opened"), (5L, "segment.started")], job.Select(e => (e.Sequence, e.Type)));
            Assert.Equal(job[0].Hash, job[1].PreviousHash);
        }

        var report = JournalVerifier.Verify(Stores.Folder, disk);
        Assert.True(report.IsSound, string.Join("\n", report.Lines()));
    }

    [Fact]
    public async Task A_lost_witness_is_damage_even_when_litedb_holds_everything()
    {
        var disk = await Stores.Small();
        disk.Damage(Witness, bytes => bytes.Clear());
        await using var store = await Stores.Open(disk);
        Assert.True(Assert.Single(store.Findings).Severe);
        Assert.Equal(4, store.Read("job-1").Count);
    }

    [Fact]
    public async Task A_witness_that_lost_its_last_entry_is_damage_because_litedb_still_has_it()
    {
        var disk = await Stores.Small();
        var lastFrame = LastFrameStart(disk.Bytes(Witness));
        disk.Damage(Witness, bytes => bytes.RemoveRange(lastFrame, bytes.Count - lastFrame));
        await using var store = await Stores.Open(disk);
        Assert.True(Assert.Single(store.Findings).Severe);
        Assert.Equal("job.closed", store.Read("job-1")[^1].Type);
    }

    [Fact]
    public async Task A_damaged_litedb_store_is_built_again_from_the_witness_and_kept()
    {
        var disk = await Stores.Small();
        disk.Damage(Data, bytes => bytes[^100] ^= 4);
        var damaged = disk.Bytes(Data);
        await using var store = await Stores.Open(disk);
        var finding = Assert.Single(store.Findings);
        Assert.False(finding.Severe);
        Assert.Equal(damaged, disk.Bytes($"{Stores.Folder}/kept-0001-companion.db"));
        Assert.Equal(4, store.Read("job-1").Count);
        Assert.Equal("gloves on", store.Read("job-1")[1].Sealed["text"].Text);
    }

    [Fact]
    public async Task A_missing_litedb_store_is_built_again_from_the_witness()
    {
        var disk = await Stores.Small();
        foreach (var path in disk.Files().Where(f => f.Contains("companion.db", StringComparison.Ordinal) || f.Contains("companion-log", StringComparison.Ordinal)))
        {
            disk.Delete(path);
        }

        await using var store = await Stores.Open(disk);
        Assert.False(Assert.Single(store.Findings).Severe);
        Assert.Equal(4, store.Read("job-1").Count);
    }

    [Fact]
    public async Task A_half_written_last_frame_without_a_litedb_entry_is_trimmed_and_said()
    {
        var disk = await Stores.Small();
        disk.Damage(Witness, bytes => bytes.AddRange([200, 0, 0, 0, 1, 2, 3, 4, (byte)'{']));
        await using var store = await Stores.Open(disk);
        var finding = Assert.Single(store.Findings);
        Assert.False(finding.Severe);
        Assert.Contains("9 bytes", finding.Detail);
    }

    [Fact]
    public async Task A_missing_key_is_replaced_and_the_new_one_named_in_the_tablets_chain()
    {
        var disk = await Stores.Small();
        disk.Delete($"{Stores.Folder}/tablet.key");
        await using (var store = await Stores.Open(disk))
        {
            Assert.False(Assert.Single(store.Findings).Severe);
            await store.AppendAsync([Drafts.Of("job-2", "job.opened")]);
        }

        Assert.True(JournalVerifier.Verify(Stores.Folder, disk).IsSound);
        await using var again = await Stores.Open(disk);
        Assert.Empty(again.Findings);
    }

    private static int LastFrameStart(byte[] bytes)
    {
        var (at, last) = (0, 0);
        while (at < bytes.Length)
        {
            last = at;
            at += 8 + BitConverter.ToInt32(bytes, at);
        }

        return last;
    }

    private static void DamageEntry(SimulatedDisk disk, int sequence)
    {
        var place = System.Text.Encoding.UTF8.GetString(disk.Bytes(Witness).Select(b => b < 128 ? b : (byte)'?').ToArray())
            .IndexOf($"\"id\":\"job-1/{sequence:D10}\"", StringComparison.Ordinal);

        // Inside the hash just before the id, so that the frame and the entry both misfit.
        disk.Damage(Witness, bytes => bytes[place - 5] ^= 1);
    }
}
