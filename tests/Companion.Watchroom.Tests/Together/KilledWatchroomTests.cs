using Companion.TestKit;

namespace Companion.Watchroom.Tests.Together;

/// <summary>The watch room as a process of its own that is killed without warning, with real uplinks at the other end (I10, I11).</summary>
public sealed class KilledWatchroomTests : IDisposable
{
    /// <summary>COMPANION_WATCHROOM_KILLS scales it.</summary>
    private static readonly int Kills = int.TryParse(Environment.GetEnvironmentVariable("COMPANION_WATCHROOM_KILLS"), out var kills) ? kills : 3;

    private readonly string _folder = Directory.CreateTempSubdirectory("companion-killed-watchroom-").FullName;

    [Fact]
    public async Task No_alert_is_lost_or_doubled_however_often_it_is_killed()
    {
        using var room = new WatchroomProcess(typeof(WatchroomApp).Assembly.Location, Path.Combine(_folder, "watchroom"));
        var counts = await new KillRun(room, _folder, new Random(11)).RunAsync(Kills);
        Assert.Equal((Kills, 0, 0, true), (counts.Kills, counts.Lost, counts.Doubled, counts.SameCertificate));

        // Everybody was missed once at least, and called once at least.
        Assert.True(counts.Owed >= 8, $"{counts.Owed} alerts were owed");
        Assert.True(counts.Recorded >= counts.Owed);
    }

    public void Dispose() => Directory.Delete(_folder, true);
}
