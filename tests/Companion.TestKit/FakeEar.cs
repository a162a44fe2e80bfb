using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.TestKit;

/// <summary>An ear that hears what a test says it hears.</summary>
public sealed class FakeEar : IEar
{
    private readonly Lock _lock = new();
    private readonly List<ListeningFor> _all = [];

    /// <summary>Every set of phrases that it was told to listen for.</summary>
    public IReadOnlyList<ListeningFor> All
    {
        get
        {
            lock (_lock)
            {
                return [.. _all];
            }
        }
    }

    /// <summary>What it listens for now.</summary>
    public ListeningFor? Now => All.Count == 0 ? null : All[^1];

    /// <inheritdoc/>
    public void Listen(ListeningFor phrases)
    {
        lock (_lock)
        {
            _all.Add(phrases);
        }
    }

    /// <summary>True when a phrase may be heard now.</summary>
    public bool MayHear(string phraseId) => Now?.Phrases.Any(phrase => phrase.Id == phraseId) == true;

    /// <summary>An utterance of one of the present phrases that began at a moment.</summary>
    public Hearing Hear(string phraseId, string words, Moment onset, HearingOutcome outcome = HearingOutcome.Accepted, int confidence = 900) =>
        new(Now?.Question ?? 0, onset, onset, outcome, phraseId, words, confidence, 20);
}
