using Companion.TestKit;
using Companion.Watchroom;

namespace Companion.Benchmarks.Watchroom;

/// <summary>The watch room's program as it is published, to be started over any store.</summary>
internal static class WatchroomProgram
{
    /// <summary>Where `./companion` publishes it.</summary>
    private const string Published = "artifacts/watchroom/Companion.Watchroom.dll";

    /// <summary>Over a store: the published program when the start script has made it, otherwise the one that was built beside this.</summary>
    public static WatchroomProcess In(string store)
    {
        var published = Path.Combine(Environment.GetEnvironmentVariable("COMPANION_HOME") ?? string.Empty, Published);
        return new WatchroomProcess(File.Exists(published) ? published : typeof(WatchroomApp).Assembly.Location, store);
    }

    /// <summary>How long it takes to start over a store that is new each time.</summary>
    public static async Task<Times> EmptyStartsAsync(string folder, int starts)
    {
        var times = new Times();
        for (var start = 0; start < starts; start++)
        {
            var store = Path.Combine(folder, $"empty-{start}");
            using var room = In(store);
            times.Add(await room.StartAsync());
            room.Kill();
            Directory.Delete(store, recursive: true);
        }

        return times;
    }
}
