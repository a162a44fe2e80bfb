using Companion.Engine.Ports;

namespace Companion.Voice.Ear;

/// <summary>What the ear made of one utterance, with the measures that decided.</summary>
/// <param name="Outcome">Whether the ear stands by the phrase.</param>
/// <param name="PhraseId">The best phrase, also when unsure; null when nothing fitted.</param>
/// <param name="Words">The words of that phrase as heard.</param>
/// <param name="Confidence">0 to 1000: 1000 where the best phrase loses nothing against the free phone path.</param>
/// <param name="Path">The best path; null when nothing fitted.</param>
/// <param name="Margin">Lead over the second best phrase in log-likelihood; infinite when there is none.</param>
public sealed record Recognition(HearingOutcome Outcome, string? PhraseId, string Words, int Confidence, GraphPath? Path, double Margin)
{
    /// <summary>Nothing of ours.</summary>
    public static Recognition Nothing { get; } = new(HearingOutcome.NotForUs, null, string.Empty, 0, null, 0);
}
