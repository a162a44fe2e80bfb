using Companion.Voice.Audio;
using Companion.Voice.Ear;
using Companion.Voice.Keeping;
using Companion.Voice.Speaking;

namespace Companion.Voice;

/// <summary>What the voice is put together from.</summary>
/// <param name="AssetsFolder">The folder with <c>ear/</c> (ear.onnx, phones.txt, silero_vad.onnx) and <c>lexicon/</c>.</param>
/// <param name="Microphone">Where sound comes from.</param>
/// <param name="Loudspeaker">Where prompts sound.</param>
/// <param name="Pace">How time passes while a prompt waits for a person who speaks.</param>
public sealed record VoiceOptions(string AssetsFolder, IMicrophone Microphone, ILoudspeaker Loudspeaker, IPace Pace)
{
    /// <summary>Makes the speech; flite, then espeak-ng, when null.</summary>
    public ISynthesiser? Synthesiser { get; init; }

    /// <summary>Thresholds other than the tuned ones; null for those.</summary>
    public EarThresholds? Strict { get; init; }

    /// <summary>True for a file or scripted speech: opened with the first question, and never dropped because recognition is slower.</summary>
    public bool Recorded { get; init; }

    /// <summary>Given all sound that the ear is given, to keep it; null when none is kept.</summary>
    public ISoundTap? Tap { get; init; }
}
