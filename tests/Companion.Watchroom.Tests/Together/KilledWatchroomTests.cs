using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.TestKit;
using Companion.Uplink;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Together;

/// <summary>The watch room as a process of its own that is killed without warning, with real tablets at the other end (I10, I11).</summary>
public sealed class KilledWatchroomTests : IDisposable
{
    /// <summary>COMPANION_WATCHROOM_KILLS scales it.</summary>
    private static readonly int Kills = int.TryParse(Environment.GetEnvironmentVariable("COMPANION_WATCHROOM_KILLS"), out var kills) ? kills : 3;

    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-killed-watchroom-").FullName;
    private readonly Random _random = new(11);
    private readonly WatchroomProcess _room;

    public KilledWatchroomTests() => _room = new WatchroomProcess(Store);

    private string Store => Path.Combine(_folder, "watchroom");

    [Fact]
    public async Task No_alert_is_lost_or_doubled_however_often_it_is_killed()
    {
        var fingerprint = await _room.StartAsync();
        var tablets = new List<WatchroomUplink>();
        for (var tablet = 0; tablet < 4; tablet++)
        {
            tablets.Add(await TabletAsync(tablet, fingerprint));
        }

        for (var kill = 0; kill < Kills; kill++)
        {
            await Task.Delay(_random.Next(500, 3000));
            _room.Kill();
            Assert.Equal(fingerprint, await _room.StartAsync());
        }

        var since = TimeProvider.System.GetTimestamp();
        var taken = new HashSet<string>();
        while (taken.Count < tablets.Count && TimeProvider.System.GetElapsedTime(since) < Patience)
        {
            await Task.Delay(500);
            _room.Kill();
            taken = [.. Alerted(await RecordedAsync())];
            if (taken.Count < tablets.Count)
            {
                await _room.StartAsync();
                await Task.Delay(5000);
            }
        }

        foreach (var tablet in tablets)
        {
            await tablet.DisposeAsync();
        }

        var alerted = Alerted(await RecordedAsync()).ToList();
        Assert.Equal(["overdue:0", "overdue:1", "overdue:2", "overdue:3"], alerted.Select(Short).Order());
        Assert.Equal(alerted.Distinct(), alerted);
    }

    public void Dispose()
    {
        _room.Kill();
        Directory.Delete(_folder, true);
    }

    private static string Short(string alert) => $"{alert.Split(':')[0]}:{alert.Split(':')[2].Split('-')[1]}";

    private static IEnumerable<string> Alerted(IEnumerable<string> entries) =>
        entries.Select(data => JsonDocument.Parse(data).RootElement.GetProperty("alert").GetString()!);

    private async Task<IReadOnlyList<string>> RecordedAsync()
    {
        await using var journal = await JournalStore.OpenAsync(Path.Combine(Store, "journal"), new StoreOptions(new ManualClock()));
        return [.. journal.Read("watch").Where(entry => entry.Type == "watch.alerted").Select(entry => entry.Data)];
    }

    private async Task<WatchroomUplink> TabletAsync(int number, string fingerprint)
    {
        var parts = new UplinkParts(Path.Combine(_folder, $"tablet-{number}"), new NoJournal(), () => BeatOf(number), TimeProvider.System, Random.Shared.NextDouble)
        {
            BeatEvery = TimeSpan.FromMilliseconds(200),
        };
        Assert.Null(await Pairing.PairAsync(parts, _room.Address, fingerprint, await _room.VerbAsync("pair-code"), Guid.NewGuid(), $"van {number}"));
        return WatchroomUplink.Start(parts);
    }

    /// <summary>Somebody who checked in once, and never again.</summary>
    private static Beat BeatOf(int number) => new(
        $"job-{number}", $"Technician {number}", "working", null, null, new CheckInStatement(1, 0, 3 + number, 1, "working"), [], [], true, false);
}
