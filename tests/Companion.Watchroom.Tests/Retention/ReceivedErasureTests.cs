using System.Text;
using Companion.Contracts;
using Companion.Journal.Proof;
using Companion.Simulation.Disk;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Tests.Receiving.Support;

namespace Companion.Watchroom.Tests.Retention;

/// <summary>Erasing personal texts that lie beside received entries.</summary>
public sealed class ReceivedErasureTests
{
    private const string Root = "/received";
    private const string Device = "tablet-1";
    private const int Entries = 7;

    [Fact]
    public async Task Erasing_leaves_no_trace_of_a_text_and_every_entry_byte_for_byte()
    {
        var (disk, tablet) = await HeldAsync();
        using var receiver = JournalReceiver.Open(Root, disk);
        Assert.Equal(3, receiver.EraseSealed(Device, "job-1", All));
        Assert.Equal(0, receiver.EraseSealed(Device, "job-1", All));
        Assert.Equal(tablet.Lines(withTexts: false).Select(Text), receiver.Read(Device, "job-1").Select(line => Text(line.ToArray())));
        Assert.All(disk.Files(), file => Assert.True(disk.Bytes(file).AsSpan().IndexOf("gloves on"u8) < 0, file));
    }

    [Fact]
    public async Task What_is_sent_again_brings_nothing_back_and_what_is_new_is_held()
    {
        var (disk, tablet) = await HeldAsync();
        var longer = await tablet.GoneOn(Entries, 4, "later");
        using (var receiver = JournalReceiver.Open(Root, disk))
        {
            receiver.EraseSealed(Device, "job-1", All);
            Assert.Equal(ReceiptOutcome.Taken, (await receiver.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(tablet.Lines()))).Outcome);
            Assert.Equal(ReceiptOutcome.Taken, (await receiver.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(longer.Lines()))).Outcome);
        }

        using var again = JournalReceiver.Open(Root, disk);
        Assert.Equal(ReceiptOutcome.Taken, (await again.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(longer.Lines()))).Outcome);
        var held = again.Read(Device, "job-1").Select(line => ExportLine.Parse(line)).ToList();
        Assert.Equal(Entries + 4, held.Count);
        Assert.All(held.Take(Entries), entry => Assert.Empty(entry.Sealed));
        Assert.Contains(held.Skip(Entries), entry => entry.Sealed.Count > 0);
    }

    [Fact]
    public async Task Only_what_is_due_goes_from_forks_as_from_the_chain()
    {
        var disk = new SimulatedDisk();
        var start = await Tablets.With(3);
        var (one, other) = (await start.GoneOn(3, 4, "one"), await start.GoneOn(3, 4, "other"));
        using var receiver = JournalReceiver.Open(Root, disk);
        await receiver.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(one.Lines()));
        Assert.Equal(ReceiptOutcome.Fork, (await receiver.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(other.Lines()))).Outcome);
        receiver.EraseSealed(Device, "job-1", entry => entry.Sequence > 4 ? ["text"] : []);
        Assert.Contains(receiver.Read(Device, "job-1"), line => Text(line.ToArray()).Contains("gloves one, ", StringComparison.Ordinal));
        AssertOnlyDueWent();
        Assert.Equal(ReceiptOutcome.Fork, (await receiver.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(other.Lines()))).Outcome);
        AssertOnlyDueWent();

        void AssertOnlyDueWent()
        {
            var entries = receiver.Read(Device, "job-1").Concat(receiver.ReadForks(Device, "job-1")).Select(line => ExportLine.Parse(line)).ToList();
            var due = entries.Where(entry => entry.Sequence > 4).ToList();
            Assert.Equal(2 * due.DistinctBy(entry => entry.Sequence).Count(), due.Count);
            Assert.All(due, entry => Assert.Empty(entry.Sealed));
            Assert.NotEmpty(entries.Where(entry => entry.Sequence is 3 or 4).SelectMany(entry => entry.Sealed));
        }
    }

    // I12: the power goes at every write of an erasure; every entry is there afterwards, and the next erasure finishes it.
    [Fact]
    public async Task A_power_cut_at_any_point_of_an_erasure_loses_no_entry()
    {
        for (var cut = 1; cut < 20; cut++)
        {
            var (disk, tablet) = await HeldAsync();
            disk.CutAt = disk.Operations + cut;
            try
            {
                using var receiver = JournalReceiver.Open(Root, disk);
                receiver.EraseSealed(Device, "job-1", All);
            }
            catch (Exception cause) when (cause is IOException or PowerCutException or Engine.Ports.StoreFaultException)
            {
                disk = disk.AfterCut(new Random(cut));
            }

            using var after = JournalReceiver.Open(Root, disk.Copy());
            after.EraseSealed(Device, "job-1", All);
            Assert.Equal(tablet.Lines(withTexts: false).Select(Text), after.Read(Device, "job-1").Select(line => Text(line.ToArray())));
        }
    }

    [Fact]
    public async Task A_damaged_chain_is_left_as_it_is()
    {
        var (disk, _) = await HeldAsync();
        var file = disk.Files().Single(name => name.EndsWith(".chain", StringComparison.Ordinal));
        disk.Damage(file, bytes => bytes[30] ^= 1);
        var before = disk.Bytes(file);
        using var receiver = JournalReceiver.Open(Root, disk);
        Assert.Equal(0, receiver.EraseSealed(Device, "job-1", All));
        Assert.Equal(before, disk.Bytes(file));
    }

    private static IReadOnlyCollection<string> All(JournalEntry entry) => [.. entry.Sealed.Keys];

    private static string Text(byte[] line) => Encoding.UTF8.GetString(line);

    /// <summary>A chain as it came, in two batches.</summary>
    private static async Task<(SimulatedDisk Disk, Tablets Tablet)> HeldAsync()
    {
        var disk = new SimulatedDisk();
        var tablet = await Tablets.With(Entries);
        using var receiver = JournalReceiver.Open(Root, disk);
        await receiver.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(tablet.Lines()[..3]));
        await receiver.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(tablet.Lines()[3..]));
        return (disk, tablet);
    }
}
