using Companion.Contracts;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Codec;
using Companion.Engine.Ports;
using Companion.Simulation.Worlds;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Checking;

/// <summary>
/// Watches one world from outside: what is decided, what becomes durable, what is said, what the state claims. It knows the true
/// running time, trusts nothing of the tablet, and throws <see cref="InvariantBrokenException"/> with the invariant's number.
/// </summary>
internal sealed class Judge(Sheet sheet) : ITabletWitness
{
    private readonly List<Witnessed> _log = [];
    private readonly PromptWatch _prompts = new();
    private readonly Memory _memory = new();
    private Pending? _pending;
    private bool _restarted;

    /// <summary>True running time, which the world counts.</summary>
    public Ticks Running { get; set; }

    /// <summary>What the log allows.</summary>
    public Ledger Ledger { get; } = new();

    /// <summary>What was acknowledged.</summary>
    public Memory Memory => _memory;

    /// <summary>What was said.</summary>
    public PromptWatch Prompts => _prompts;

    /// <summary>Entries of the job so far.</summary>
    public int Entries => _log.Count;

    /// <summary>The last refusal to open the store, in its words.</summary>
    public string? Refusal { get; private set; }

    /// <inheritdoc/>
    public void Decided(Job? before, Command command, Decision decision, Moment moment)
    {
        _prompts.Begin(decision);
        _pending = new Pending(before, command, decision, moment);
    }

    /// <inheritdoc/>
    public void Appending(IReadOnlyList<EntryDraft> drafts)
    {
        _memory.Appending(drafts);
        if (_pending is { } pending)
        {
            _prompts.WarnedBeforeTheDisk(pending.Decision, pending.Moment);
        }
    }

    /// <inheritdoc/>
    public void Durable(IReadOnlyList<JournalEntry> entries)
    {
        _memory.Durable(entries);
        var pending = _pending ?? throw new InvariantBrokenException("I7: an entry without a decision");
        pending.LogBefore = _log.Count;
        foreach (var entry in entries)
        {
            Take(entry, pending.Moment);
        }

        _prompts.Recorded();
    }

    /// <inheritdoc/>
    public void Settled(Snapshot snapshot)
    {
        if (!snapshot.Recording)
        {
            NotRecording(snapshot);
            return;
        }

        if (_pending is not { } pending)
        {
            return;
        }

        Oracle.Claim(pending.LogBefore is not null || pending.Decision.Events.IsEmpty, "I16: the journal did not take it, and recording is shown");
        Oracle.Claim(!_restarted || snapshot.Job is not { } job || (job.Proofs.IsEmpty && job.Clearance is null), "I16: proofs survive a restart, which may hide a store in doubt");
        _pending = null;
        _restarted = false;
        _prompts.End();
        var turn = new Turned(pending.Command, pending.Decision, pending.Moment, pending.LogBefore ?? _log.Count, pending.Before, snapshot.Job);
        TurnChecks.Hold(turn, _log);
        StateChecks.Hold(turn, Ledger);
        StateChecks.Refusal(turn, Ledger);
        VoidChecks.Hold(turn, sheet);
        _prompts.AlarmRepeats(snapshot.Job, pending.Moment);
    }

    /// <inheritdoc/>
    public void Said(Prompt prompt) => _prompts.Said(prompt, Ledger);

    /// <inheritdoc/>
    public void CannotOpen(string words)
    {
        Oracle.Claim(words.Contains(' ', StringComparison.Ordinal) && !words.Contains("   at ", StringComparison.Ordinal), $"I12: no plain words for a store that cannot be opened: {words}");
        Refusal = words;
    }

    /// <inheritdoc/>
    public void Reopened(IJournal journal)
    {
        _pending = null;
        _prompts.Restarted();
        _restarted = true;
        var more = _memory.Compare(journal);
        if (_memory.Damaged)
        {
            return;
        }

        foreach (var entry in more)
        {
            Take(entry, EventCodec.MomentOf(entry));
        }
    }

    private void Take(JournalEntry entry, Moment moment)
    {
        var happened = EventCodec.Read(entry) ?? throw new InvariantBrokenException($"I13: {entry.Type} is not read back");
        var witnessed = new Witnessed(entry.Sequence, happened, moment, Running);
        _log.Add(witnessed);
        Ledger.Take(witnessed);
    }

    private void NotRecording(Snapshot snapshot)
    {
        _pending = null;
        _prompts.End();
        Oracle.Claim(snapshot.Job is not { } job || (job.Proofs.IsEmpty && job.Clearance is null && job.Test is null), "I16: proofs stand although nothing is recorded");
        Oracle.Claim(!string.IsNullOrWhiteSpace(snapshot.Trouble), "I16: not recording, and nobody is told why");
    }

    private sealed record Pending(Job? Before, Command Command, Decision Decision, Moment Moment)
    {
        public int? LogBefore { get; set; }
    }
}
