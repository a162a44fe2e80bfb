using System.Globalization;
using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Screens.Answering;

/// <summary>
/// Names one stage of one question as it was shown: the finger went down on this, whatever is open when it comes up (I17).
/// </summary>
/// <param name="Sequence">The question's sequence; 0 when none is open.</param>
/// <param name="Since">CLOCK_BOOTTIME since which the stage is open.</param>
public readonly record struct QuestionKey(long Sequence, Ticks Since)
{
    /// <summary>No question.</summary>
    public static readonly QuestionKey None = new(0, Ticks.Zero);

    /// <summary>The key of a question.</summary>
    public static QuestionKey Of(Question? question) => question is null ? None : new QuestionKey(question.Sequence, question.Since);

    /// <summary>The key of the question that a job's screen shows: none without a job, or after its end.</summary>
    public static QuestionKey Of(Job? job) => job is { Ended: false } ? Of(job.Question) : None;

    /// <summary>Reads what <see cref="ToString"/> wrote; anything else names no question.</summary>
    public static QuestionKey Parse(string? text)
    {
        var parts = (text ?? string.Empty).Split('.');
        return parts.Length == 2
            && long.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var sequence)
            && long.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var since)
                ? new QuestionKey(sequence, new Ticks(since))
                : None;
    }

    /// <summary>The form in which the page carries it.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Sequence}.{Since.Nanoseconds}");
}
