using Companion.Uplink.Tests.Support;

namespace Companion.Uplink.Tests;

/// <summary>A tablet and its watch room get to know each other, and nobody else.</summary>
public sealed class PairingTests
{
    private static bool Tells(string? trouble, string words) => trouble?.Contains(words, StringComparison.Ordinal) == true;

    [Fact]
    public async Task A_wrong_code_pairs_nothing_and_says_what_to_do()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        var trouble = await Pairing.PairAsync(bench.Parts, room.Address, room.Fingerprint, "00000000", Guid.NewGuid(), "van 12");
        Assert.Contains("Ask for a new one", trouble, StringComparison.Ordinal);
        Assert.Null(PairedWatchroom.Read(bench.Parts.WatchroomFile));
    }

    [Fact]
    public async Task Another_certificate_is_refused_when_pairing_and_ever_after()
    {
        await using var room = await FakeWatchroom.StartAsync();
        await using var other = await FakeWatchroom.StartAsync();
        await using var bench = await UplinkBench.CreateAsync();
        Assert.Contains("another certificate", await Pairing.PairAsync(bench.Parts, room.Address, other.Fingerprint, "12345678", Guid.NewGuid(), "van 12"), StringComparison.Ordinal);
        // Without a pin the system's own trust decides, and a certificate that signs itself has none.
        Assert.NotNull(await Pairing.PairAsync(bench.Parts, room.Address, null, "12345678", Guid.NewGuid(), "van 12"));

        await bench.PairAsync(room);
        (PairedWatchroom.Read(bench.Parts.WatchroomFile)! with { Address = other.Address }).Write(bench.Parts.WatchroomFile);
        await bench.AddAsync("job-1", 2);
        bench.Start();
        // A busy machine may have another trouble first: that the watch room did not answer in time.
        await bench.UntilAsync(() => Tells(bench.Uplink!.State.BeatTrouble, "another certificate"), "nobody was told of the beats");
        await bench.UntilAsync(() => Tells(bench.Uplink!.State.OutboxTrouble, "pair the tablet again"), "nobody was told of the record");
        Assert.Empty(other.Beats);
        Assert.Empty(other.Held("job-1"));
    }

    [Fact]
    public async Task An_address_that_is_not_https_and_one_where_nobody_is_are_told_apart()
    {
        await using var bench = await UplinkBench.CreateAsync();
        Assert.Contains("begins with https", await Pairing.PairAsync(bench.Parts, new Uri("http://127.0.0.1:1"), null, "12345678", Guid.NewGuid(), "van"), StringComparison.Ordinal);
        Assert.Contains("Check the address", await Pairing.PairAsync(bench.Parts, new Uri("https://127.0.0.1:1"), null, "12345678", Guid.NewGuid(), "van"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_key_is_made_once_and_only_its_owner_may_read_it()
    {
        await using var bench = await UplinkBench.CreateAsync();
        using var made = DeviceKey.Open(bench.Parts.KeyFile);
        using var again = DeviceKey.Open(bench.Parts.KeyFile);
        Assert.Equal(made.PublicKey, again.PublicKey);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(bench.Parts.KeyFile));
    }

    [Fact]
    public async Task Without_a_watch_room_the_uplink_does_nothing()
    {
        await using var bench = await UplinkBench.CreateAsync();
        bench.Start();
        bench.Uplink!.Nudge();
        await bench.AddAsync("job-1", 2);
        Assert.Equal(new UplinkState(), bench.Uplink.State);
    }
}
