using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Watching.Support;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>What the watch room writes in its own chain.</summary>
public sealed class EntryTests
{
    [Fact]
    public async Task Every_entry_of_the_watch_has_its_row_in_the_schema_and_keeps_to_its_members()
    {
        await using var bench = await WatchBench.Start();
        await bench.Send(0, WatchBench.BeatOf(1, calls: new Call("job-1/9", CallKind.Warning, 0)));
        await bench.Send(1, WatchBench.BeatOf(1, interval: 60));
        await bench.Pulse(300);
        await bench.Keeper.TakeAsync("call:van-1:job-1:9", "Ilka Brandt", "on the way");
        await bench.Restart(400);
        await bench.Keeper.EndWatchAsync(WatchBench.Device, WatchBench.Job, "Ilka Brandt", "over");

        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "journal-entry.schema.json")));
        var rows = document.RootElement.GetProperty("$defs");
        var entries = bench.Store.Read("watch");
        foreach (var entry in entries)
        {
            var row = rows.GetProperty(entry.Type);
            using var data = JsonDocument.Parse(entry.Data);
            var members = data.RootElement.EnumerateObject().Select(member => member.Name).ToHashSet();
            Assert.Subset(row.GetProperty("properties").EnumerateObject().Select(member => member.Name).ToHashSet(), members);
            Assert.Superset(row.GetProperty("required").EnumerateArray().Select(name => name.GetString()!).ToHashSet(), members);
            Assert.All(entry.Sealed.Keys, name => Assert.Equal("#/$defs/personal", row.GetProperty("properties").GetProperty(name).GetProperty("$ref").GetString()));
        }

        var written = entries.Select(entry => entry.Type).Distinct().Order();
        Assert.Equal(rows.EnumerateObject().Select(row => row.Name).Where(name => name.StartsWith("watch.", StringComparison.Ordinal)).Order(), written);
    }
}
