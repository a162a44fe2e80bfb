using Companion.Contracts.Uplink;
using Companion.Uplink.Tests.Support;

namespace Companion.Uplink.Tests;

/// <summary>Beats travel on a path of their own, newest only.</summary>
public sealed class BeatTests
{
    /// <summary>No beat is given up within this, however busy the machine is.</summary>
    private static readonly TimeSpan Busy = TimeSpan.FromMinutes(1);

    private static int NumberOf(Beat beat) => int.Parse(beat.Job!["job-".Length..], System.Globalization.CultureInfo.InvariantCulture);

    [Fact]
    public async Task Beats_go_on_while_the_outbox_is_refused_or_hangs_and_none_is_sent_twice()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        bench.Parts = bench.Parts with { BeatTimeout = Busy };
        await bench.PairAsync(room);
        room.Plan = path => path == UplinkFormat.BatchPath ? Fault.Slow : Fault.None;
        await bench.AddAsync("job-1", 5);
        var answers = 0;
        bench.Start();
        bench.Uplink!.Answered += _ => Interlocked.Increment(ref answers);
        await bench.UntilAsync(() => Volatile.Read(ref answers) >= 10 && bench.Uplink.State.BeatTrouble is null, "no beats went while the batch hung");
        await bench.StopAsync();
        var numbers = room.Beats.Select(NumberOf).ToList();
        Assert.Equal(numbers.Distinct().Order(), numbers);
    }

    [Fact]
    public async Task A_beat_that_did_not_arrive_is_not_sent_again_the_next_says_more()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        var lost = 0;
        room.Plan = path => path == UplinkFormat.BeatPath && ++lost <= 3 ? Fault.LostBefore : Fault.None;
        bench.Start();
        await bench.UntilAsync(() => room.Beats.Count >= 3, "no beats went");
        Assert.True(NumberOf(room.Beats[0]) >= 4);
        Assert.Equal(room.Beats.Count, room.Beats.Select(NumberOf).Distinct().Count());
    }

    [Theory]
    [InlineData(Fault.Portal)]
    [InlineData(Fault.Truncated)]
    [InlineData(Fault.Broken)]
    public async Task What_is_no_answer_is_no_word_of_the_watch_room(object fault)
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        await bench.PairAsync(room);
        room.Plan = path => path == UplinkFormat.BeatPath ? (Fault)fault : Fault.None;
        var answers = 0;
        bench.Start();
        bench.Uplink!.Answered += _ => Interlocked.Increment(ref answers);
        await bench.UntilAsync(() => bench.Uplink.State.BeatTrouble is not null, "nobody was told");
        Assert.Equal((0, null), (answers, bench.Uplink.State.LastAnswer));
    }

    [Fact]
    public async Task A_nudge_sends_one_at_once()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        bench.Parts = bench.Parts with { BeatEvery = TimeSpan.FromHours(1), BeatTimeout = Busy };
        await bench.PairAsync(room);
        bench.Start();
        await bench.UntilAsync(() => room.Beats.Count == 1, "the first beat did not go");
        bench.Uplink!.Nudge();
        await bench.UntilAsync(() => room.Beats.Count == 2, "the nudge sent nothing");
    }
}
