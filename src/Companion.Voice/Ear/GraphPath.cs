namespace Companion.Voice.Ear;

/// <summary>The best way through a phrase's graph for one utterance.</summary>
/// <param name="Score">Sum of log-probabilities along the way.</param>
/// <param name="Words">The words in order, with where they lie and how well they fit.</param>
/// <param name="OutsideDeficit">Loss against the free phone path before the first word and after the last phone; 0 or less.</param>
public sealed record GraphPath(double Score, IReadOnlyList<WordSpan> Words, double OutsideDeficit)
{
    /// <summary>Phones of all words.</summary>
    public int PhoneCount => Words.Sum(word => word.Phones);

    /// <summary>Loss against the free phone path, all frames; 0 or less.</summary>
    public double Deficit => OutsideDeficit + Words.Sum(word => word.Deficit);
}
