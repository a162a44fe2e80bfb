using System.Collections.Immutable;
using Companion.Domain.Events;

namespace Companion.Review.Across;

/// <summary>
/// What was heard and said in many jobs, in memory only: never on a disk, and gone as soon as its record is read again without it. Each text is
/// kept once with the places where it stands; a search goes through the texts, not through the places. Not for two threads at once.
/// </summary>
internal sealed class SpokenTexts
{
    private readonly Dictionary<string, List<SpokenPlace>> places = new(StringComparer.Ordinal);
    private readonly Dictionary<RecordName, ImmutableArray<string>> texts = [];

    /// <summary>Takes up what a record says, in place of what it said before.</summary>
    public void Put(RecordName name, RecordedJob job)
    {
        Remove(name);
        var own = new HashSet<string>(StringComparer.Ordinal);
        foreach (var entry in job.Entries)
        {
            if (TextOf(entry.Happened) is not { Length: > 0 } text)
            {
                continue;
            }

            if (!places.TryGetValue(text, out var known))
            {
                places[text] = known = [];
            }

            known.Add(new SpokenPlace(name, entry.Sequence, entry.Happened is SpeechHeard));
            own.Add(text);
        }

        texts[name] = [.. own];
    }

    /// <summary>Forgets a record and every text that no other holds.</summary>
    public void Remove(RecordName name)
    {
        if (!texts.Remove(name, out var own))
        {
            return;
        }

        foreach (var text in own)
        {
            places[text].RemoveAll(place => place.Record == name);
            if (places[text].Count == 0)
            {
                places.Remove(text);
            }
        }
    }

    /// <summary>Every place whose text holds all the words, whatever their case.</summary>
    public IEnumerable<(string Text, SpokenPlace Place)> Find(string words)
    {
        var wanted = words.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        return wanted.Length == 0
            ? []
            : places.Where(text => wanted.All(word => text.Key.Contains(word, StringComparison.OrdinalIgnoreCase)))
                .SelectMany(text => text.Value.Select(place => (text.Key, place)));
    }

    private static string? TextOf(JobEvent? happened) => happened switch
    {
        SpeechHeard heard => heard.Text?.Text,
        PromptSpoken spoken => spoken.Text,
        PromptFailed failed => failed.Text,
        _ => null,
    };
}

/// <summary>Where something was heard or said.</summary>
/// <param name="Record">The record.</param>
/// <param name="Sequence">The entry.</param>
/// <param name="Heard">True when a person said it, false for a prompt.</param>
public readonly record struct SpokenPlace(RecordName Record, long Sequence, bool Heard);
