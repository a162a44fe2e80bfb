namespace Companion.Voice.Speaking;

/// <summary>Makes speech out of text. Calls may come from any thread.</summary>
public interface ISynthesiser
{
    /// <summary>The text spoken, 16 kHz mono.</summary>
    /// <exception cref="SynthesiserException">It could not be made into speech.</exception>
    short[] Speak(string text);
}
