using System.Text;
using Companion.Contracts;
using Companion.Simulation.Disk;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Tests.Receiving.Support;

namespace Companion.Watchroom.Tests.Receiving;

/// <summary>What is taken, what is refused and why, and what is kept of what does not fit.</summary>
public sealed class ReceiverTests
{
    private const string Root = "/received";
    private const string Device = "van-1";

    private static readonly Guid Tablet = Tablets.Tablet;

    [Fact]
    public async Task A_batch_is_held_byte_for_byte_and_acknowledged_with_its_head()
    {
        var disk = new SimulatedDisk();
        var lines = (await Tablets.With(7)).Lines();
        using (var receiver = JournalReceiver.Open(Root, disk))
        {
            var receipt = await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines));
            Assert.Equal((ReceiptOutcome.Taken, "job-1", 7L), (receipt.Outcome, receipt.Answer!.Chain, receipt.Answer.Sequence));
            Assert.Contains($"\"hash\":\"{receipt.Answer.Head}\"", Encoding.UTF8.GetString(lines[^1]), StringComparison.Ordinal);
            Assert.Equal(new HeldChain("job-1", 7, receipt.Answer.Head, Forked: false), Assert.Single(receiver.Chains(Device)));
        }

        using var again = JournalReceiver.Open(Root, disk);
        Assert.Equal(lines, Held(again));
        Assert.Equal(lines[4..], again.Read(Device, "job-1", 5).Select(line => line.ToArray()));
        Assert.Equal(7, Assert.Single(again.Chains(Device)).Sequence);
        Assert.Empty(again.Chains("van-2"));
    }

    // What a list found out is kept: each change must be seen by the next list all the same.
    [Fact]
    public async Task A_list_and_a_stamp_tell_of_every_batch_fork_and_erasure()
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        var common = await Tablets.With(4);
        var (one, other) = ((await common.GoneOn(4, 3, "this way")).Lines(), (await common.GoneOn(4, 6, "that way")).Lines());
        List<(long Sequence, bool Forked, string Stamp)> seen = [];
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(one[..4]));
        See();
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(one[4..]));
        See();
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(other));
        See();
        Assert.NotEqual(0, receiver.EraseSealed(Device, "job-1", entry => [.. entry.Sealed.Keys]));
        See();
        Assert.Equal([(4, false), (7, false), (7, true), (7, true)], seen.Select(look => (look.Sequence, look.Forked)));
        Assert.Equal(4, seen.Select(look => look.Stamp).Distinct().Count());

        void See()
        {
            var held = Assert.Single(receiver.Chains(Device));
            Assert.Equal(held, Assert.Single(receiver.Chains(Device)));
            seen.Add((held.Sequence, held.Forked, receiver.StampOf(Device, "job-1")));
        }
    }

    [Fact]
    public async Task Entries_that_miss_others_before_them_are_not_taken_and_the_place_to_go_on_from_is_told()
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        var lines = (await Tablets.With(9)).Lines();
        Assert.Equal((ReceiptOutcome.Gap, 0L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[3..5]))));
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[..3]));
        Assert.Equal((ReceiptOutcome.Gap, 3L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[5..]))));
        Assert.Equal((ReceiptOutcome.Gap, 4L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines[3], lines[7]))));
        Assert.Equal(lines[..4], Held(receiver));
    }

    [Fact]
    public async Task The_same_sequence_with_other_content_is_kept_aside_and_flagged_and_overwrites_nothing()
    {
        var disk = new SimulatedDisk();
        var common = await Tablets.With(4);
        var (one, other) = ((await common.GoneOn(4, 3, "this way")).Lines(), (await common.GoneOn(4, 6, "that way")).Lines());
        var receiver = JournalReceiver.Open(Root, disk);
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(one));
        for (var repetition = 0; repetition < 2; repetition++)
        {
            // The last three go on from what was put aside, beyond the end of what is held.
            Assert.Equal((ReceiptOutcome.Fork, 7L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(other[..7]))));
            Assert.Equal((ReceiptOutcome.Fork, 7L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(other[7..]))));
            Assert.Equal(one, Held(receiver));
            Assert.Equal(other[4..], receiver.ReadForks(Device, "job-1").Select(line => line.ToArray()));
            Assert.True(Assert.Single(receiver.Chains(Device)).Forked);
            receiver.Dispose();
            receiver = JournalReceiver.Open(Root, disk);
        }

        Assert.Equal((ReceiptOutcome.Taken, 7L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(one))));
        receiver.Dispose();
    }

    [Fact]
    public async Task An_entry_that_links_to_nothing_that_is_held_is_broken()
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch((await Tablets.With(4)).Lines()));
        var foreign = (await Tablets.With(6)).Lines();
        Assert.Equal((ReceiptOutcome.Broken, 4L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(foreign[4]))));
    }

    [Fact]
    public async Task Entries_of_another_tablet_are_refused()
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        var lines = (await Tablets.With(2, tablet: Guid.NewGuid())).Lines();
        var receipt = await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines));
        Assert.Equal(ReceiptOutcome.Broken, receipt.Outcome);
        Assert.Contains("another tablet", receipt.Reason, StringComparison.Ordinal);
        Assert.Empty(receiver.Chains(Device));
    }

    [Fact]
    public async Task Real_and_rehearsal_entries_are_never_mixed_in_a_chain()
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        var (real, rehearsal) = ((await Tablets.With(2)).Lines(), (await Tablets.With(4, kind: StoreKind.Rehearsal)).Lines());
        await receiver.TakeAsync(Device, Tablet, Tablets.Batch(real));
        Assert.Equal((ReceiptOutcome.Broken, 2L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(rehearsal))));
        Assert.Equal((ReceiptOutcome.Broken, 2L), Short(await receiver.TakeAsync(Device, Tablet, Tablets.Batch(real[1], rehearsal[2]))));
        Assert.Equal(real, Held(receiver));
    }

    [Fact]
    public async Task Another_format_version_is_told_apart_from_a_broken_entry()
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        var line = Encoding.UTF8.GetString((await Tablets.With(1)).Lines()[0]);
        var later = line.Replace("urn:companion:journal:1", "urn:companion:journal:2", StringComparison.Ordinal);
        var receipt = await receiver.TakeAsync(Device, Tablet, Encoding.UTF8.GetBytes(later + "\n"));
        Assert.Equal(ReceiptOutcome.WrongVersion, receipt.Outcome);
        Assert.Contains("journal:2", receipt.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_batch_without_entries_cut_off_out_of_order_or_of_two_chains_is_broken()
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        var (lines, others) = ((await Tablets.With(3)).Lines(), (await Tablets.With(3, "job-2")).Lines("job-2"));
        byte[][] batches = [[], "\n"u8.ToArray(), Tablets.Batch(lines)[..^1], Tablets.Batch(lines[1], lines[0]), Tablets.Batch(lines[0], lines[0]), Tablets.Batch(lines[0], others[1]), [.. Tablets.Batch(lines), .. "\n"u8]];
        foreach (var batch in batches)
        {
            Assert.Equal(ReceiptOutcome.Broken, (await receiver.TakeAsync(Device, Tablet, batch)).Outcome);
        }

        Assert.Empty(receiver.Chains(Device));
    }

    [Theory]
    [InlineData("""{"text":{"salt":null,"text":null}}""")]
    [InlineData("""{"text":{"salt":"00000000000000000000000000000000","text":"gloves off"}}""")]
    [InlineData("""{"other":{"salt":"00000000000000000000000000000000","text":"x"}}""")]
    [InlineData("[]")]
    [InlineData("null")]
    public async Task A_personal_text_that_the_entry_was_not_made_with_is_refused(string texts)
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        var bare = Encoding.UTF8.GetString((await Tablets.With(1)).Lines(withTexts: false)[0]);
        var line = bare.Replace(",\"sequence\"", $",\"sealed\":{texts},\"sequence\"", StringComparison.Ordinal) + "\n";
        var receipt = await receiver.TakeAsync(Device, Tablet, Encoding.UTF8.GetBytes(line));
        Assert.Equal(ReceiptOutcome.Broken, receipt.Outcome);
    }

    [Theory]
    [InlineData("..")]
    [InlineData("../../etc")]
    [InlineData("a/b")]
    [InlineData("Van")]
    [InlineData("")]
    [InlineData("van 1")]
    public async Task A_name_that_no_device_has_reaches_no_folder(string device)
    {
        using var receiver = JournalReceiver.Open(Root, new SimulatedDisk());
        await Assert.ThrowsAsync<ArgumentException>(async () => await receiver.TakeAsync(device, Tablet, "x"u8.ToArray()));
        Assert.Throws<ArgumentException>(() => receiver.Chains(device));
        Assert.Throws<ArgumentException>(() => receiver.Read(device, "job-1"));
    }

    [Theory]
    [InlineData("..")]
    [InlineData(".")]
    [InlineData("CON")]
    public async Task A_chain_named_like_a_way_out_of_the_folder_stays_in_it(string chain)
    {
        var disk = new SimulatedDisk();
        using var receiver = JournalReceiver.Open(Root, disk);
        var lines = (await Tablets.With(2, chain)).Lines(chain);
        Assert.Equal(ReceiptOutcome.Taken, (await receiver.TakeAsync(Device, Tablet, Tablets.Batch(lines))).Outcome);
        Assert.Equal(chain, Assert.Single(receiver.Chains(Device)).Chain);
        Assert.All(disk.Files(), file => Assert.Matches("^/received/van-1/[0-9a-f]{64}\\.chain$", file));
    }

    [Fact]
    public void A_second_receiver_on_the_same_folder_is_refused()
    {
        var disk = new SimulatedDisk();
        using var receiver = JournalReceiver.Open(Root, disk);
        Assert.Throws<Engine.Ports.StoreFaultException>(() => JournalReceiver.Open(Root, disk));
    }

    private static (ReceiptOutcome Outcome, long Sequence) Short(Receipt receipt) => (receipt.Outcome, receipt.Answer!.Sequence);

    private static IEnumerable<byte[]> Held(JournalReceiver receiver) => receiver.Read(Device, "job-1").Select(line => line.ToArray());
}
