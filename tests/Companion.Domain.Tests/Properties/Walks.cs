using System.Globalization;
using CsCheck;
using Companion.TestKit;
using Companion.TestKit.Walking;
using Companion.TestKit.Judging;

namespace Companion.Domain.Tests.Properties;

/// <summary>One random life of a job, told by four numbers.</summary>
/// <param name="Sheet">Seed of the sheet; below zero the test van.</param>
/// <param name="Seed">Seed of what happens.</param>
/// <param name="Chaos">How often out of a hundred something other than the right answer happens.</param>
/// <param name="Steps">How many things happen.</param>
internal sealed record Walk(int Sheet, int Seed, int Chaos, int Steps)
{
    /// <summary>Lives it.</summary>
    public World Live()
    {
        var world = new World(Sheet < 0 ? DemoSheets.Van() : RandomSheet.Of(Sheet));
        world.Open(Seed % 5 == 0, Seed % 7 == 0 ? null : "Marit");
        new Walker(world, Chaos, new Random(Seed)).Walk(Steps);
        return world;
    }

    /// <summary>"walk 3 14 15 92", as it stands in the files of regression seeds.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"walk {Sheet} {Seed} {Chaos} {Steps}");

    /// <summary>Reads that line again.</summary>
    public static Walk Parse(string line)
    {
        var parts = line.Split(' ').Skip(1).Select(part => int.Parse(part, CultureInfo.InvariantCulture)).ToArray();
        return new Walk(parts[0], parts[1], parts[2], parts[3]);
    }
}

/// <summary>The generator of walks and how many of them a property takes.</summary>
internal static class Walks
{
    private static readonly int[] Chaos = [0, 2, 8, 8, 20, 45, 90];

    /// <summary>Random walks: one in four on the test van, from careful to wild.</summary>
    public static readonly Gen<Walk> Any = Gen.Select(
        Gen.Int[0, 1_000_000], Gen.Int[0, 1_000_000_000], Gen.Int[0, 6], Gen.Int[1, 260],
        (sheet, seed, chaos, steps) => new Walk(sheet % 4 == 0 ? -1 : sheet, seed, Chaos[chaos], steps));

    private static readonly double? Scale = double.TryParse(
        Environment.GetEnvironmentVariable("COMPANION_PROPERTY_SCALE"), NumberStyles.Float, CultureInfo.InvariantCulture, out var scale) ? scale : null;

    /// <summary>Checks a property on random jobs.</summary>
    public static void Hold(int iterations, Action<World> property) => Each(iterations, walk => property(walk.Live()));

    /// <summary>
    /// Checks a property on random walks: on fresh ones, so many times more, when COMPANION_PROPERTY_SCALE is set, as for a search; else on the same
    /// ones each time, so that a change is judged by what it changes.
    /// </summary>
    public static void Each(int iterations, Action<Walk> property)
    {
        if (Scale is { } times)
        {
            Any.Sample(property, iter: Math.Max(1, (long)(iterations * times)), print: walk => walk.ToString());
            return;
        }

        var random = new Random(iterations);
        var walks = Enumerable.Range(0, iterations).Select(_ => Of(random)).ToList();
        Parallel.ForEach(walks, walk =>
        {
            try
            {
                property(walk);
            }
            catch (Exception fault)
            {
                throw new InvalidOperationException(walk.ToString(), fault);
            }
        });
    }

    private static Walk Of(Random random)
    {
        var sheet = random.Next(1_000_001);
        return new Walk(sheet % 4 == 0 ? -1 : sheet, random.Next(1_000_000_001), Chaos[random.Next(Chaos.Length)], random.Next(1, 261));
    }
}
