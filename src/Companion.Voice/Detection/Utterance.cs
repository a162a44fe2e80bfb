namespace Companion.Voice.Detection;

/// <summary>A stretch of speech cut out of the microphone's sound.</summary>
/// <param name="Samples">Its sound, with a little before and after.</param>
/// <param name="Onset">The position of the first sample of speech, counted from the microphone's first.</param>
/// <param name="End">The position after the last sample of speech.</param>
/// <param name="NoisePower">Mean square of the noise before it; null when none was heard.</param>
/// <param name="CutShort">True when it was longer than an utterance may be, or a part of it is missing: it must not be recognised.</param>
public sealed record Utterance(float[] Samples, long Onset, long End, double? NoisePower, bool CutShort);
