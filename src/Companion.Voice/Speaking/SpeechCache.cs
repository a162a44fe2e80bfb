namespace Companion.Voice.Speaking;

/// <summary>
/// Speech made ahead and kept, the longest unused dropped first. A prompt that is being made is waited for, not made twice. Safe for many threads.
/// </summary>
public sealed class SpeechCache : ISynthesiser
{
    /// <summary>Most samples kept: 10 minutes of speech, 19 MB.</summary>
    public const int MaximumSamples = 600 * Audio.AudioFormat.SampleRate;

    private readonly ISynthesiser synthesiser;
    private readonly int maximumSamples;
    private readonly Lock gate = new();
    private readonly LinkedList<(string Text, Lazy<short[]> Speech)> order = new();
    private readonly Dictionary<string, LinkedListNode<(string Text, Lazy<short[]> Speech)>> kept = new(StringComparer.Ordinal);

    /// <summary>A cache in front of a synthesiser.</summary>
    public SpeechCache(ISynthesiser synthesiser, int maximumSamples = MaximumSamples)
    {
        ArgumentNullException.ThrowIfNull(synthesiser);
        this.synthesiser = synthesiser;
        this.maximumSamples = maximumSamples;
    }

    /// <summary>Texts kept.</summary>
    public int Count
    {
        get
        {
            lock (gate)
            {
                return kept.Count;
            }
        }
    }

    /// <inheritdoc/>
    public short[] Speak(string text)
    {
        var speech = Find(text);
        try
        {
            var samples = speech.Value;
            Shrink();
            return samples;
        }
        catch (SynthesiserException)
        {
            Forget(text);
            throw;
        }
    }

    private Lazy<short[]> Find(string text)
    {
        lock (gate)
        {
            if (kept.TryGetValue(text, out var node))
            {
                order.Remove(node);
                order.AddFirst(node);
                return node.Value.Speech;
            }

            var speech = new Lazy<short[]>(() => synthesiser.Speak(text));
            kept[text] = order.AddFirst((text, speech));
            return speech;
        }
    }

    private void Forget(string text)
    {
        lock (gate)
        {
            if (kept.Remove(text, out var node))
            {
                order.Remove(node);
            }
        }
    }

    private void Shrink()
    {
        lock (gate)
        {
            var total = order.Sum(entry => entry.Speech.IsValueCreated ? entry.Speech.Value.Length : 0);
            while (total > maximumSamples && order.Last is { } oldest && order.Count > 1)
            {
                total -= oldest.Value.Speech.IsValueCreated ? oldest.Value.Speech.Value.Length : 0;
                kept.Remove(oldest.Value.Text);
                order.RemoveLast();
            }
        }
    }
}
