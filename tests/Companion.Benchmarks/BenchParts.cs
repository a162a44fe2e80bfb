using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Companion.Benchmarks;

/// <summary>An area's parts: those that are named are run, all of them when none is. Numbers after a name are that part's own.</summary>
/// <param name="area">The area.</param>
/// <param name="parts">Its parts; each takes its numbers, none meaning the usual ones.</param>
internal sealed class BenchParts(string area, IReadOnlyDictionary<string, Func<int[], Task<object>>> parts)
{
    /// <summary>Runs; one JSON object on standard output, and on standard error which part has begun.</summary>
    /// <returns>0, or 2 when there is no such part.</returns>
    public async Task<int> RunAsync(string[] words)
    {
        var wanted = new Dictionary<string, List<int>>();
        foreach (var word in words)
        {
            if (parts.ContainsKey(word))
            {
                wanted.Add(word, []);
            }
            else if (wanted.Count > 0 && int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            {
                wanted.Last().Value.Add(number);
            }
            else
            {
                Console.Error.WriteLine($"Which part of {area}? One or more of: {string.Join(", ", parts.Keys)}; each with its numbers after it.");
                return 2;
            }
        }

        var figures = new JsonObject { ["area"] = area };
        foreach (var (name, numbers) in wanted.Count > 0 ? wanted : parts.Keys.ToDictionary(name => name, _ => new List<int>()))
        {
            Console.Error.WriteLine($"{area} {name}");
            var since = Stopwatch.GetTimestamp();
            figures[name] = JsonSerializer.SerializeToNode(await parts[name]([.. numbers]).ConfigureAwait(false));
            Console.Error.WriteLine($"{area} {name}: {Stopwatch.GetElapsedTime(since).TotalSeconds:0} s");
        }

        Console.WriteLine(figures.ToJsonString());
        return 0;
    }
}
