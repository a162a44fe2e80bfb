using System.Text.Json;

namespace Companion.Simulation.Defects;

/// <summary>A deliberate mistake in the product, and the world that catches it: the proof that the simulator can see.</summary>
/// <param name="Name">What is wrong, in a few words.</param>
/// <param name="File">The source file, from the root.</param>
/// <param name="Find">Text that stands exactly once in it.</param>
/// <param name="Replace">What stands there instead.</param>
/// <param name="World">The line of the world that catches it; the first word alone while none is known.</param>
/// <param name="Breaks">The invariant that it is caught by.</param>
public sealed record Defect(string Name, string File, string Find, string Replace, string World, string Breaks)
{
    private static readonly JsonSerializerOptions Json = new() { PropertyNameCaseInsensitive = true };

    /// <summary>The project that the file belongs to.</summary>
    public string Project => File.Split('/')[1];

    /// <summary>True when its world is one of several tablets and their watch room.</summary>
    public bool IsWatched => World.StartsWith(Watched.WatchedPlan.Word, StringComparison.Ordinal);

    /// <summary>True when a text stands in its name, file or world.</summary>
    public bool Has(string text) => $"{Name}\n{File}\n{World}".Contains(text, StringComparison.Ordinal);

    /// <summary>The list that stands beside this file.</summary>
    public static IReadOnlyList<Defect> All(string root) =>
        JsonSerializer.Deserialize<List<Defect>>(System.IO.File.ReadAllText(Path.Combine(root, "tests/Companion.Simulation/Defects/defects.json")), Json)!;

    /// <summary>The file with the mistake in it.</summary>
    /// <exception cref="FormatException">The text does not stand there exactly once: the product has moved on, and the list must follow.</exception>
    public string Mutated(string root)
    {
        var source = System.IO.File.ReadAllText(Path.Combine(root, File));
        var at = source.IndexOf(Find, StringComparison.Ordinal);
        return at >= 0 && source.IndexOf(Find, at + 1, StringComparison.Ordinal) < 0
            ? source[..at] + Replace + source[(at + Find.Length)..]
            : throw new FormatException($"{Name}: the text does not stand exactly once in {File}.");
    }
}
