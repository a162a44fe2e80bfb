using Companion.Simulation.Disk;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Tests.Receiving.Support;

namespace Companion.Watchroom.Tests.Receiving;

/// <summary>Full disks, failing disks, power cuts and damage (I12).</summary>
public sealed class ReceiverDiskTests
{
    private const string Root = "/received";
    private const string Device = "van-1";

    private static readonly Guid Tablet = Tablets.Tablet;

    [Fact]
    public async Task A_disk_that_fills_up_at_any_moment_leaves_nothing_half_taken()
    {
        var lines = (await Tablets.With(6)).Lines();
        var operations = await Operations(lines);
        var refused = 0;
        for (var full = 1; full <= operations; full++)
        {
            var disk = new SimulatedDisk();
            using var receiver = JournalReceiver.Open(Root, disk);
            disk.FullFrom = disk.Operations + full;
            var first = await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[..3]));
            var second = await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines));
            refused += first.Outcome == ReceiptOutcome.NotStored || second.Outcome == ReceiptOutcome.NotStored ? 1 : 0;
            Assert.Equal(lines[..(int)second.Answer!.Sequence], Held(receiver));
            disk.FullFrom = null;
            Assert.Equal((ReceiptOutcome.Taken, 6L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines))));
            Assert.Equal(lines, Held(receiver));
            receiver.Dispose();
            using var again = JournalReceiver.Open(Root, disk);
            Assert.Equal((ReceiptOutcome.Taken, 6L), Short(await again.TakeAsync(Device, Tablet, Tablets.Batch(lines))));
        }

        // A disk that is full only after the last growing write refuses nothing.
        Assert.InRange(refused, 2, operations);
    }

    [Fact]
    public async Task What_was_acknowledged_survives_a_cut_of_the_power_and_a_failed_sync_at_any_moment()
    {
        var lines = (await Tablets.With(6)).Lines();
        var operations = await Operations(lines);
        for (var at = 1; at <= operations; at++)
        {
            foreach (var isCut in new[] { true, false })
            {
                var disk = new SimulatedDisk();
                var receiver = JournalReceiver.Open(Root, disk);
                (disk.CutAt, disk.ErrorAt) = isCut ? (disk.Operations + at, null) : ((int?)null, (int?)disk.Operations + at);
                var acknowledged = 0L;
                foreach (var batch in new[] { lines[..3], lines })
                {
                    var receipt = await receiver.TakeAsync(Device, Tablet, Tablets.Batch(batch));
                    acknowledged = receipt.Outcome == ReceiptOutcome.Taken ? receipt.Answer!.Sequence : acknowledged;
                }

                disk.CutAt ??= disk.Operations + 1;
                for (var seed = 0; seed < 4; seed++)
                {
                    var after = disk.AfterCut(new Random((at * 10) + seed));
                    using var again = JournalReceiver.Open(Root, after);
                    var receipt = await again.TakeAsync(Device, Tablet, Tablets.Batch(lines[..1]));
                    Assert.Equal(ReceiptOutcome.Taken, receipt.Outcome);
                    Assert.True(receipt.Answer!.Sequence >= acknowledged, $"operation {at}, seed {seed}: {acknowledged} were acknowledged, {receipt.Answer.Sequence} are held");
                    Assert.Equal((ReceiptOutcome.Taken, 6L), Short(await again.TakeAsync(Device, Tablet, Tablets.Batch(lines))));
                    Assert.Equal(lines, Held(again));
                }
            }
        }
    }

    // I16: a failed sync is never retried as if it had worked, not even by the next run of the program that finds the bytes there.
    [Fact]
    public async Task What_a_failing_disk_left_behind_is_made_durable_before_it_is_acknowledged()
    {
        var lines = (await Tablets.With(6)).Lines();
        var operations = await Operations(lines);
        for (var at = 1; at <= operations; at++)
        {
            var disk = new SimulatedDisk();
            using (var receiver = JournalReceiver.Open(Root, disk))
            {
                (disk.ErrorAt, disk.ErrorLasts) = (disk.Operations + at, true);
                await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[..3]));
                await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines));
                (disk.ErrorAt, disk.ErrorLasts) = (null, false);
            }

            using (var next = JournalReceiver.Open(Root, disk))
            {
                Assert.Equal((ReceiptOutcome.Taken, 6L), Short(await next.TakeAsync(Device, Tablet, Tablets.Batch(lines))));
            }

            for (var seed = 0; seed < 4; seed++)
            {
                using var after = JournalReceiver.Open(Root, disk.AfterCut(new Random((at * 10) + seed)));
                Assert.Equal(lines, Held(after));
            }
        }
    }

    [Fact]
    public async Task A_torn_end_is_put_aside_and_cut_off()
    {
        var (disk, path, lines) = await Kept();
        disk.Damage(path, bytes => bytes.RemoveRange(bytes.Count - 5, 5));
        using var receiver = JournalReceiver.Open(Root, disk);
        Assert.Equal((ReceiptOutcome.Taken, 3L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[..3]))));
        Assert.Contains(path + ".torn", disk.Files());
        Assert.Equal((ReceiptOutcome.Taken, 6L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines))));
        Assert.Equal(lines, Held(receiver));
    }

    // I12: damage is noticed, kept, and never repaired by guessing.
    [Fact]
    public async Task Damage_before_the_end_is_left_as_it_is_and_nothing_more_is_taken()
    {
        var (disk, path, lines) = await Kept();
        disk.Damage(path, bytes => bytes[40] ^= 1);
        var before = disk.Bytes(path);
        using var receiver = JournalReceiver.Open(Root, disk);
        var receipt = await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines));
        Assert.Equal(ReceiptOutcome.NotStored, receipt.Outcome);
        Assert.Contains("damaged", receipt.Reason, StringComparison.Ordinal);
        Assert.Equal(before, disk.Bytes(path));
    }

    private static async Task<(SimulatedDisk Disk, string Path, byte[][] Lines)> Kept()
    {
        var disk = new SimulatedDisk();
        var lines = (await Tablets.With(6)).Lines();
        using var receiver = JournalReceiver.Open(Root, disk);
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[..3]));
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[3..]));
        return (disk, Assert.Single(disk.Files()), lines);
    }

    private static async Task<int> Operations(byte[][] lines)
    {
        var disk = new SimulatedDisk();
        using var receiver = JournalReceiver.Open(Root, disk);
        var before = disk.Operations;
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[..3]));
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines));
        return disk.Operations - before;
    }

    private static (ReceiptOutcome Outcome, long Sequence) Short(Receipt receipt) => (receipt.Outcome, receipt.Answer!.Sequence);

    private static IEnumerable<byte[]> Held(JournalReceiver receiver) => receiver.Read(Device, "job-1").Select(line => line.ToArray());
}
