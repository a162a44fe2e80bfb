using Companion.Engine.Ports;

namespace Companion.Voice.Ear;

/// <summary>
/// Decides which phrase an utterance is, or that it is none: the best phrase must lose little against the free phone path, in total and in
/// its worst word, lead the second best, leave no speech outside, and not be drawn out. Safe for many threads.
/// </summary>
public sealed class PhraseMatcher
{
    private readonly EarThresholds strict;
    private readonly EarThresholds loose;

    /// <summary>A matcher with its thresholds.</summary>
    public PhraseMatcher(EarThresholds strict, EarThresholds loose)
    {
        ArgumentNullException.ThrowIfNull(strict);
        ArgumentNullException.ThrowIfNull(loose);
        this.strict = strict;
        this.loose = loose;
    }

    /// <summary>Matches one utterance against the phrases that may be heard.</summary>
    /// <param name="phrases">The phrases.</param>
    /// <param name="posteriors">The network's output.</param>
    /// <param name="signalToNoise">Estimated signal-to-noise ratio in decibels.</param>
    public Recognition Match(IReadOnlyList<CompiledPhrase> phrases, Posteriors posteriors, int signalToNoise)
    {
        ArgumentNullException.ThrowIfNull(phrases);
        CompiledPhrase? best = null;
        double first = double.NegativeInfinity, second = double.NegativeInfinity;
        foreach (var phrase in phrases)
        {
            var score = CtcDecoder.Score(phrase.Graph, posteriors);
            if (score > first)
            {
                (best, second, first) = (phrase, first, score);
            }
            else
            {
                second = Math.Max(second, score);
            }
        }

        // Only the best one's words are worth tracing back.
        return best is not null && CtcDecoder.Decode(best.Graph, posteriors) is { } path
            ? Judge(best, path, first - second, signalToNoise)
            : Recognition.Nothing;
    }

    private Recognition Judge(CompiledPhrase phrase, GraphPath path, double margin, int signalToNoise)
    {
        var limits = phrase.Loose ? loose : strict;
        var perPhone = path.Deficit / path.PhoneCount;
        var words = string.Join(' ', path.Words.Select(word => word.Word));
        var outcome = perPhone < limits.UnsurePerPhone ? HearingOutcome.NotForUs
            : !Meets(limits, path, perPhone, margin) ? HearingOutcome.Unsure
            : signalToNoise < limits.LeastSignalToNoise ? HearingOutcome.TooNoisy
            : HearingOutcome.Accepted;
        return outcome == HearingOutcome.NotForUs
            ? Recognition.Nothing with { Path = path, Margin = margin }
            : new Recognition(outcome, phrase.Id, words, Confidence(perPhone), path, margin);
    }

    private static bool Meets(EarThresholds limits, GraphPath path, double perPhone, double margin)
    {
        var frames = path.Words[^1].EndFrame - path.Words[0].FirstFrame;
        return perPhone >= limits.PerPhone
            && path.Words.Min(word => word.Deficit / word.Phones) >= limits.WorstWord
            && path.OutsideDeficit >= limits.Outside
            && margin >= limits.Margin
            && frames <= limits.MostFramesPerPhone * path.PhoneCount;
    }

    private static int Confidence(double perPhone) => (int)Math.Round(1000 * Math.Exp(Math.Min(0, perPhone)));
}
