using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Companion.Contracts;

namespace Companion.Engine.Codec.Upcasting;

/// <summary>The steps from the first version of the format to the newest, one for each version. Any thread.</summary>
public sealed class Upcasters
{
    /// <summary>The steps of this Companion: none, because the format is at its first version.</summary>
    public static readonly Upcasters Usual = new(EntryFormat.Newest, []);

    private readonly ImmutableArray<IUpcaster> steps;

    /// <summary>A chain of steps.</summary>
    /// <param name="newest">The version that the records of this program are of.</param>
    /// <param name="steps">A step from every version before it, in order.</param>
    /// <exception cref="ArgumentException">A step is missing, doubled or out of order.</exception>
    public Upcasters(int newest, ImmutableArray<IUpcaster> steps)
    {
        if (!steps.Select(step => step.From).SequenceEqual(Enumerable.Range(1, newest - 1)))
        {
            throw new ArgumentException($"A step is needed from every version before {newest}, in order.", nameof(steps));
        }

        (Newest, this.steps) = (newest, steps);
    }

    /// <summary>The newest version that can be read.</summary>
    public int Newest { get; }

    /// <summary>Raises the data of an entry from the version that it was written in.</summary>
    /// <exception cref="FormatException">The entry is of a later version.</exception>
    public void Raise(JournalEntry entry, JsonObject data)
    {
        if (entry.Format > Newest)
        {
            throw new FormatException($"It was {EntryFormat.TooNew(entry.Format, Newest)}.");
        }

        foreach (var step in steps.Skip(entry.Format - 1))
        {
            step.Raise(entry.Type, data);
        }
    }
}
