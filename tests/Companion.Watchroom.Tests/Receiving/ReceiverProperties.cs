using Companion.Simulation.Disk;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Tests.Receiving.Support;
using CsCheck;

namespace Companion.Watchroom.Tests.Receiving;

/// <summary>Batches as a bad line delivers them: split anyhow, doubled, out of order, damaged, with restarts between.</summary>
public sealed class ReceiverProperties
{
    private const string Root = "/received";
    private const string Device = "van-1";
    private const int Entries = 24;

    [Fact]
    public async Task However_the_entries_arrive_what_is_held_is_always_a_beginning_of_what_was_recorded()
    {
        var lines = (await Tablets.With(Entries)).Lines();
        await Gen.Select(Gen.Int[0, Entries - 1], Gen.Int[1, Entries], Gen.Int[0, 9]).Array[0, 15].SampleAsync(async arrivals =>
        {
            var disk = new SimulatedDisk();
            var receiver = JournalReceiver.Open(Root, disk);
            var held = 0L;
            foreach (var (from, length, chance) in arrivals.Append((0, Entries, 1)))
            {
                var to = Math.Min(Entries, from + length);
                var receipt = await receiver.TakeAsync(Device, Tablets.Tablet, Tablets.Batch(lines[from..to]));
                Assert.Equal(from > held ? ReceiptOutcome.Gap : ReceiptOutcome.Taken, receipt.Outcome);
                held = from > held ? held : Math.Max(held, to);
                Assert.Equal(held, receipt.Answer!.Sequence);
                if (chance == 0)
                {
                    receiver.Dispose();
                    receiver = JournalReceiver.Open(Root, disk);
                }
            }

            Assert.Equal(lines, receiver.Read(Device, "job-1").Select(line => line.ToArray()));
            receiver.Dispose();
        }, iter: 40);
    }

    [Fact]
    public async Task A_changed_byte_is_never_taken_and_never_a_fault()
    {
        var batch = Tablets.Batch((await Tablets.With(3)).Lines());
        await Gen.Select(Gen.Int[0, batch.Length - 1], Gen.Int[1, 255]).SampleAsync(async (at, change) =>
        {
            using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
            var changed = batch.ToArray();
            changed[at] ^= (byte)change;
            var receipt = await receiver.TakeAsync(Device, Tablets.Tablet, changed);
            Assert.True(receipt.Outcome is ReceiptOutcome.Broken or ReceiptOutcome.WrongVersion, $"byte {at} by {change}: {receipt}");
            Assert.Empty(receiver.Chains(Device));
        }, iter: 400);
    }

    [Fact]
    public async Task Batches_of_many_devices_at_the_same_time_do_not_mix()
    {
        var folder = Directory.CreateTempSubdirectory("companion-received-");
        using var receiver = JournalReceiver.Open(folder.FullName);
        var lines = (await Tablets.With(Entries)).Lines();
        await Task.WhenAll(Enumerable.Range(0, 8).Select(device => Task.Run(async () =>
        {
            for (var i = 0; i < Entries; i += 3)
            {
                // Twice at the same time, as two attempts of one outbox whose first answer was late.
                var batch = Tablets.Batch(lines[Math.Max(0, i - 2)..(i + 3)]);
                await Task.WhenAll(Enumerable.Range(0, 2).Select(_ => receiver.TakeAsync($"van-{device}", Tablets.Tablet, batch).AsTask()));
            }
        })));
        Assert.All(Enumerable.Range(0, 8), device => Assert.Equal(lines, receiver.Read($"van-{device}", "job-1").Select(line => line.ToArray())));
        receiver.Dispose();
        folder.Delete(recursive: true);
    }
}
