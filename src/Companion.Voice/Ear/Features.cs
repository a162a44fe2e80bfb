namespace Companion.Voice.Ear;

/// <summary>What the network sees: frames of 64 log-mel bands, row after row.</summary>
/// <param name="Frames">Number of frames; 0 when the sound is shorter than one.</param>
/// <param name="Values">Frames times 64 values.</param>
public sealed record Features(int Frames, float[] Values);
