using System.Text.Json;
using Companion.Benchmarks;
using Companion.Benchmarks.Review;
using Companion.Benchmarks.Watchroom;

// One JSON object on standard output; each area measures itself beside a peer in the same run.
var areas = new Dictionary<string, Func<Task<int>>>
{
    ["journal"] = async () => Print(await JournalBenchmark.RunAsync(args[1..])),
    ["screen"] = () => Task.Run(() => Done(() => ScreenBenchmark.Run(Console.Out))),
    ["watchroom"] = () => new BenchParts("watchroom", new Dictionary<string, Func<int[], Task<object>>>
    {
        ["overdue"] = OverdueBenchmark.RunAsync,
        ["ingest"] = IngestBenchmark.RunAsync,
        ["kills"] = KillBenchmark.RunAsync,
        ["restart"] = RestartBenchmark.RunAsync,
        ["wire"] = WireBenchmark.RunAsync,
        ["pages"] = PagesBenchmark.RunAsync,
    }).RunAsync(args[1..]),
    ["review"] = () => new BenchParts("review", new Dictionary<string, Func<int[], Task<object>>>
    {
        ["replay"] = ReplayBenchmark.RunAsync,
        ["page"] = PageBenchmark.RunAsync,
        ["across"] = AcrossBenchmark.RunAsync,
    }).RunAsync(args[1..]),
    [PlainServer.Verb] = () => PlainServer.ServeAsync(args[1..]),
    ["proof"] = () => Task.Run(() => Print(ProofBenchmark.Run(args[1..]))),
    ["voice"] = () => Task.Run(() => Done(() => VoiceBenchmark.Run(Console.Out))),
    ["papers"] = async () => Print(new { area = "papers", figures = await PapersBenchmark.MeasureAsync(1_000, 20_000) }),
};

if (args.Length == 0 || !areas.TryGetValue(args[0], out var area))
{
    Console.Error.WriteLine($"Which area? One of: {string.Join(", ", areas.Keys)}.");
    return 2;
}

return await area();

static int Print(object figures) => Done(() => Console.WriteLine(JsonSerializer.Serialize(figures)));

static int Done(Action run)
{
    run();
    return 0;
}
