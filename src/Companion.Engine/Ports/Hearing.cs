using Companion.Domain.Time;

namespace Companion.Engine.Ports;

/// <summary>One utterance and what became of it in the ear.</summary>
/// <param name="Question">The sequence of the question that was open when the speech began (0: none).</param>
/// <param name="Onset">When the speech began.</param>
/// <param name="End">When it ended.</param>
/// <param name="Outcome">Whether the ear stands by the phrase.</param>
/// <param name="PhraseId">The best phrase, also when unsure; null when nothing fitted.</param>
/// <param name="Words">The words of that phrase as heard, slots filled ("affirm four seven").</param>
/// <param name="Confidence">0 to 1000.</param>
/// <param name="SignalToNoise">Estimated speech level over noise level in whole decibels.</param>
public sealed record Hearing(
    long Question, Moment Onset, Moment End, HearingOutcome Outcome, string? PhraseId, string Words, int Confidence, int SignalToNoise);

/// <summary>What the ear made of an utterance.</summary>
public enum HearingOutcome
{
    /// <summary>The phrase passed the thresholds.</summary>
    Accepted,

    /// <summary>Something near a phrase, not near enough to act on.</summary>
    Unsure,

    /// <summary>Speech or noise that is none of the phrases.</summary>
    NotForUs,

    /// <summary>Too noisy to confirm by voice: use the button or the screen.</summary>
    TooNoisy,
}
