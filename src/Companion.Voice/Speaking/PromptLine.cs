using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Voice.Speaking;

/// <summary>
/// The prompts that wait, the most urgent first and then the oldest; what must be dropped comes back as receipts. Bounded. Not safe for
/// many threads: the prompt queue holds its lock.
/// </summary>
public sealed class PromptLine
{
    /// <summary>Most prompts that wait; beyond it the least urgent, oldest one goes.</summary>
    public const int MaximumWaiting = 32;

    /// <summary>A time call that has not begun to sound by then is no longer true.</summary>
    public static readonly Ticks TimeCallStaleAfter = Ticks.OfSeconds(10);

    private readonly List<(Prompt Prompt, Moment Since)> waiting = [];

    /// <summary>Number that wait.</summary>
    public int Count => waiting.Count;

    /// <summary>The texts that wait, the next one first.</summary>
    public IReadOnlyList<string> Texts => [.. Ordered().Select(entry => entry.Prompt.Text)];

    /// <summary>Adds a prompt. The receipt of the one that had to go, or null.</summary>
    public PromptReceipt? Add(Prompt prompt, Moment now)
    {
        waiting.Add((prompt, now));
        if (waiting.Count <= MaximumWaiting)
        {
            return null;
        }

        var least = waiting.MinBy(entry => (entry.Prompt.Urgency, entry.Prompt.Id));
        waiting.Remove(least);
        return new PromptReceipt(least.Prompt.Id, false, "queue full");
    }

    /// <summary>The most urgent prompt's urgency; null when none waits.</summary>
    public Urgency? Next => waiting.Count == 0 ? null : waiting.Max(entry => entry.Prompt.Urgency);

    /// <summary>Takes the next prompt; stale time calls are dropped on the way and their receipts added to the list.</summary>
    public Prompt? Take(Moment now, ICollection<PromptReceipt> dropped)
    {
        foreach (var entry in waiting.Where(entry => IsStale(entry.Prompt, entry.Since, now)).ToList())
        {
            waiting.Remove(entry);
            dropped.Add(new PromptReceipt(entry.Prompt.Id, false, "stale"));
        }

        if (waiting.Count == 0)
        {
            return null;
        }

        var next = Ordered().First();
        waiting.Remove(next);
        return next.Prompt;
    }

    /// <summary>Drops the questions and echoes (less urgent than an alarm) with an id below the given one. Statements stay: they are still true.</summary>
    public IReadOnlyList<PromptReceipt> DropBefore(long id)
    {
        var gone = waiting.Where(entry => entry.Prompt.Id < id && entry.Prompt.Question != 0 && entry.Prompt.Urgency < Urgency.Alarm).ToList();
        gone.ForEach(entry => waiting.Remove(entry));
        return [.. gone.Select(entry => new PromptReceipt(entry.Prompt.Id, false, "stale"))];
    }

    private IEnumerable<(Prompt Prompt, Moment Since)> Ordered() =>
        waiting.OrderByDescending(entry => entry.Prompt.Urgency).ThenBy(entry => entry.Prompt.Id);

    private static bool IsStale(Prompt prompt, Moment since, Moment now) =>
        prompt.Urgency == Urgency.TimeCall && (now.BootId != since.BootId || now.Boot - since.Boot > TimeCallStaleAfter);
}
