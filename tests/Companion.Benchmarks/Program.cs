using System.Text.Json;
using Companion.Benchmarks;

// One JSON object on standard output; each area measures itself beside a peer in the same run.
var areas = new Dictionary<string, Func<Task>>
{
    ["journal"] = async () => Console.WriteLine(JsonSerializer.Serialize(await JournalBenchmark.RunAsync(args[1..]))),
    ["screen"] = () => Task.Run(() => ScreenBenchmark.Run(Console.Out)),
    ["watchroom"] = async () => Console.WriteLine(JsonSerializer.Serialize(await WatchroomBenchmark.RunAsync(args[1..]))),
    ["review"] = async () => Console.WriteLine(JsonSerializer.Serialize(new { area = "review", replay = await ReplayBenchmark.MeasureAsync(100, 1_000, 10_000, 100_000) })),
    ["papers"] = async () => Console.WriteLine(JsonSerializer.Serialize(new { area = "papers", figures = await PapersBenchmark.MeasureAsync(1_000, 20_000) })),
    ["proof"] = () => Task.Run(() => Console.WriteLine(JsonSerializer.Serialize(ProofBenchmark.Run(args[1..])))),
    ["voice"] = () => Task.Run(() => VoiceBenchmark.Run(Console.Out)),
};

if (args.Length == 0 || !areas.TryGetValue(args[0], out var area))
{
    Console.Error.WriteLine($"Which area? One of: {string.Join(", ", areas.Keys)}.");
    return 2;
}

await area();
return 0;
