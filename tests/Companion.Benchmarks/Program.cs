using System.Text.Json;
using Companion.Benchmarks;

// One JSON object on standard output; each area measures itself beside a peer in the same run.
var areas = new Dictionary<string, Func<string[], Task<object>>>
{
    ["journal"] = JournalBenchmark.RunAsync,
};

if (args.Length == 0 || !areas.TryGetValue(args[0], out var area))
{
    Console.Error.WriteLine($"Which area? One of: {string.Join(", ", areas.Keys)}.");
    return 2;
}

Console.WriteLine(JsonSerializer.Serialize(await area(args[1..])));
return 0;
