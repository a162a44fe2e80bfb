namespace Companion.Voice.Ear;

/// <summary>One word of a path.</summary>
/// <param name="Word">The word.</param>
/// <param name="FirstFrame">The network frame of its first phone.</param>
/// <param name="EndFrame">The frame after its last phone.</param>
/// <param name="Phones">Its number of phones.</param>
/// <param name="Deficit">Loss against the free phone path from its first phone to the next word's; 0 or less.</param>
public sealed record WordSpan(string Word, int FirstFrame, int EndFrame, int Phones, double Deficit);
