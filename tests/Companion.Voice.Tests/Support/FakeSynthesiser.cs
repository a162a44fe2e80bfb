using System.Collections.Concurrent;
using Companion.Voice.Speaking;

namespace Companion.Voice.Tests.Support;

/// <summary>Speaks the text "N..." as a fifth of a second of the constant N, so that a test can tell prompts apart. "!" fails.</summary>
public sealed class FakeSynthesiser : ISynthesiser
{
    public const int Samples = 3_200;

    public ConcurrentQueue<string> Made { get; } = new();

    public short[] Speak(string text)
    {
        Made.Enqueue(text);
        if (text.StartsWith('!'))
        {
            throw new SynthesiserException("It does not speak.");
        }

        var samples = new short[Samples];
        Array.Fill(samples, short.Parse(text.Split(' ')[0]));
        return samples;
    }
}
