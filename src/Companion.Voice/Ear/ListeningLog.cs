using Companion.Domain.Time;

namespace Companion.Voice.Ear;

/// <summary>
/// Which question and phrases were current when: speech that began before a question changed belongs to the question before (I17).
/// Safe for many threads.
/// </summary>
public sealed class ListeningLog
{
    /// <summary>Changes kept; far more than happen within one utterance.</summary>
    public const int MaximumKept = 32;

    private readonly Lock gate = new();
    private readonly LinkedList<(Moment Since, long Question, IReadOnlyList<CompiledPhrase> Phrases)> changes = new();

    /// <summary>From this moment on another question is open.</summary>
    public void Change(Moment since, long question, IReadOnlyList<CompiledPhrase> phrases)
    {
        lock (gate)
        {
            changes.AddLast((since, question, phrases));
            if (changes.Count > MaximumKept)
            {
                changes.RemoveFirst();
            }
        }
    }

    /// <summary>What was current at a moment; question 0 and no phrases before the first change.</summary>
    public (long Question, IReadOnlyList<CompiledPhrase> Phrases) At(Moment moment)
    {
        lock (gate)
        {
            for (var node = changes.Last; node is not null; node = node.Previous)
            {
                if (node.Value.Since.BootId != moment.BootId || node.Value.Since.Boot <= moment.Boot)
                {
                    return (node.Value.Question, node.Value.Phrases);
                }
            }

            return (0, []);
        }
    }
}
