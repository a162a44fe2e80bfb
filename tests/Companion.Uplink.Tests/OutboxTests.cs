using Companion.Contracts.Uplink;
using Companion.Journal.Proof;
using Companion.Uplink.Tests.Support;

namespace Companion.Uplink.Tests;

/// <summary>The journal reaches the watch room whole, once and in order, whatever happens on the way.</summary>
public sealed class OutboxTests
{
    private static bool IsBatch(string path) => path == UplinkFormat.BatchPath;

    [Fact]
    public async Task Everything_arrives_in_order_with_its_personal_texts_and_the_bytes_are_counted()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        await bench.AddAsync("job-1", 450);
        await bench.AddAsync("job-2", 3);
        bench.Start();
        await bench.UntilAsync(() => bench.IsWhole(room), "not everything arrived");
        await bench.AddAsync("job-1", 1);
        await bench.UntilAsync(() => bench.IsWhole(room) && bench.Uplink!.State.Waiting == 0, "what was added later did not arrive");
        Assert.Empty(room.Wrong);
        Assert.Equal(room.Held("job-2").Sum(line => line.Length + 1), bench.Uplink!.State.BytesByChain["job-2"]);
    }

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 4)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public async Task Nothing_is_lost_or_doubled_whatever_the_network_does_and_whenever_the_tablet_is_restarted(int seed)
    {
        var random = new Random(seed);
        var faults = Enum.GetValues<Fault>();
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        var slow = 0;
        room.Plan = path =>
        {
            lock (random)
            {
                var fault = IsBatch(path) && random.Next(3) > 0 ? faults[random.Next(faults.Length)] : Fault.None;
                return fault == Fault.Slow && ++slow > 1 ? Fault.None : fault;
            }
        };
        for (var restart = 0; restart < 4; restart++)
        {
            bench.Start();
            await bench.AddAsync($"job-{restart % 2}", 100 + (60 * restart));
            await Task.Delay(random.Next(60));
            await bench.StopAsync();
        }

        bench.Start();
        await bench.UntilAsync(() => bench.IsWhole(room), $"seed {seed}: not everything arrived");
        Assert.Empty(room.Wrong);
    }

    // A sign-in page answers every request with a friendly status: nothing counts as acknowledged.
    [Theory]
    [InlineData(Fault.Portal)]
    [InlineData(Fault.Truncated)]
    [InlineData(Fault.WrongHead)]
    [InlineData(Fault.Broken)]
    public async Task What_is_no_acknowledgement_is_not_taken_for_one(object fault)
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        var asked = 0;
        room.Plan = path => IsBatch(path) && Interlocked.Increment(ref asked) <= 3 ? (Fault)fault : Fault.None;
        await bench.AddAsync("job-1", 5);
        bench.Start();
        await bench.UntilAsync(() => asked >= 2 || bench.Uplink!.State.OutboxTrouble is not null, "it was not tried");
        // The far side may hold everything after the first attempts: what counts is that they were tried again until one was acknowledged.
        await bench.UntilAsync(() => asked >= 4 && bench.IsWhole(room) && bench.Uplink!.State.OutboxTrouble is null, $"{fault} was taken for an acknowledgement");
    }

    [Fact]
    public async Task What_the_watch_room_lost_is_sent_again()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        await bench.AddAsync("job-1", 30);
        bench.Start();
        await bench.UntilAsync(() => bench.IsWhole(room), "not everything arrived");
        room.Forget("job-1", 7);
        await bench.AddAsync("job-1", 2);
        await bench.UntilAsync(() => bench.IsWhole(room), "what was lost did not arrive again");
    }

    // A closed job gets no new entry that would bring the loss to light: the answer for another chain does.
    [Fact]
    public async Task A_closed_job_that_the_watch_room_lost_is_sent_again()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        await bench.AddAsync("tablet", 3);
        await bench.AddAsync("job-1", 30);
        await bench.AddAsync("job-2", 10);
        bench.Start();
        await bench.UntilAsync(() => bench.IsWhole(room) && bench.Uplink!.State.Waiting == 0, "not everything arrived");
        await bench.StopAsync();
        room.Forget("tablet", 2);
        room.Forget("job-1", 7);
        room.Forget("job-2", 0);
        bench.Start();
        await bench.UntilAsync(() => bench.IsWhole(room), "what was lost did not arrive again");
        Assert.Empty(room.Wrong);
    }

    // It asked about its last entry for ever, and nobody learnt that there were two stories.
    [Fact]
    public async Task A_store_that_was_put_back_to_an_older_copy_shows_what_it_recorded_since()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await using var other = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        await bench.AddAsync("job-1", 5);
        bench.Start();
        await bench.UntilAsync(() => bench.Uplink!.State.Waiting == 0 && room.Held("job-1").Count == 5, "not everything arrived");
        await bench.StopAsync();
        var copied = await File.ReadAllBytesAsync(bench.Parts.PositionsFile);
        bench.Start();
        await bench.AddAsync("job-1", 7);
        await bench.UntilAsync(() => room.Held("job-1").Count == 12, "not everything arrived");
        await bench.StopAsync();

        await File.WriteAllBytesAsync(bench.Parts.PositionsFile, copied);
        await other.AddAsync("job-1", 8);
        bench.Parts = bench.Parts with { Source = new PutBack("job-1", [.. bench.Parts.Source.Read("job-1", 1).Take(5), .. other.Parts.Source.Read("job-1", 6)]) };
        bench.Start();
        await bench.UntilAsync(() => room.Wrong.Contains("job-1/8 came with other content"), "the second story was not shown");
        Assert.Contains("job-1/6 came with other content", room.Wrong);
        Assert.Equal(12, room.Held("job-1").Count);
        await bench.UntilAsync(() => bench.Uplink!.State.OutboxTrouble?.Contains("does not fit", StringComparison.Ordinal) == true, "nobody was told");
        Assert.Equal(3, bench.Uplink!.State.Waiting);
    }

    [Fact]
    public async Task A_chain_that_is_refused_holds_up_no_other_and_is_told_of()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        room.Forked["job-1"] = "Entry 3 is held with other content. Somebody must look.";
        await bench.AddAsync("job-1", 5);
        await bench.AddAsync("job-2", 5);
        bench.Start();
        await bench.UntilAsync(() => room.Held("job-2").Count == 5, "the other chain did not arrive");
        await bench.UntilAsync(() => bench.Uplink!.State.OutboxTrouble?.Contains("Somebody must look", StringComparison.Ordinal) == true, "nobody was told");
        Assert.Equal(5, bench.Uplink!.State.Waiting);
        Assert.Equal(new RefusedChain("job-1", "Entry 3 is held with other content. Somebody must look."), Assert.Single(bench.Uplink.State.Refused));
    }

    [Fact]
    public async Task What_waits_is_told_with_its_bytes_and_since_when_and_what_came_later_to_a_refused_chain_too()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        bench.Parts = bench.Parts with { RefusedPause = TimeSpan.FromMilliseconds(200) };
        await bench.PairAsync(room);
        room.Forked["job-1"] = "Somebody must look.";
        await bench.AddAsync("job-1", 5);
        bench.Start();
        await bench.UntilAsync(() => bench.Uplink!.State is { Waiting: 5, Refused.Length: 1 }, "what waits is not told");
        await bench.AddAsync("job-1", 2);
        var lines = bench.Journal.Read("job-1");
        await bench.UntilAsync(() => bench.Uplink!.State.Waiting == 7, "what came later is not counted");
        Assert.Equal(lines.Sum(entry => ExportLine.Of(entry).Length + 1), bench.Uplink!.State.WaitingBytes);
        Assert.Equal(lines[0].Time, bench.Uplink.State.WaitingSince);

        room.Forked.Remove("job-1");
        await bench.UntilAsync(() => bench.Uplink.State is { Waiting: 0, WaitingBytes: 0, WaitingSince: null, Refused.IsEmpty: true }, "it is told for ever");
    }

    [Fact]
    public async Task With_lost_positions_everything_is_sent_again_and_nothing_doubled()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        await bench.AddAsync("job-1", 450);
        bench.Start();
        await bench.UntilAsync(() => bench.IsWhole(room) && bench.Uplink!.State.Waiting == 0, "not everything arrived");
        await bench.StopAsync();
        await File.WriteAllTextAsync(Path.Combine(bench.Parts.Folder, "sent.json"), "{\"job-1\": nonsense");
        bench.Start();
        await bench.AddAsync("job-1", 1);
        await bench.UntilAsync(() => bench.IsWhole(room), "not everything arrived");
        Assert.Empty(room.Wrong);
    }

    /// <summary>One chain of a store that was put back, and went on otherwise.</summary>
    private sealed class PutBack(string chain, IReadOnlyList<OutboxLine> lines) : IOutboxSource
    {
        public IReadOnlyList<string> Chains() => [chain];

        public IReadOnlyList<OutboxLine> Read(string of, long fromSequence) => [.. lines.Where(line => of == chain && line.Sequence >= fromSequence)];
    }
}
