using System.Runtime.InteropServices;
using Companion.Voice.Audio;

namespace Companion.Voice.Speaking;

/// <summary>Words as a WAV file, for prompts that are spoken again in a browser. Callable from any thread.</summary>
/// <param name="synthesiser">Makes the speech; what it made last is kept.</param>
public sealed class PromptSound(ISynthesiser synthesiser)
{
    private readonly Lock _lock = new();
    private readonly SpeechCache _speech = new(synthesiser);

    /// <summary>The voice that the product speaks with.</summary>
    public static PromptSound Usual() => new(FallbackSynthesiser.Usual());

    /// <summary>The file, 16 kHz mono; null when this machine makes no speech of the words.</summary>
    public byte[]? Wav(string words)
    {
        try
        {
            short[] samples;
            lock (_lock)
            {
                // One voice at a time, however many pages ask.
                samples = _speech.Speak(words);
            }

            return [.. WavFile.Header(samples.Length), .. MemoryMarshal.AsBytes(samples.AsSpan())];
        }
        catch (SynthesiserException)
        {
            return null;
        }
    }
}
