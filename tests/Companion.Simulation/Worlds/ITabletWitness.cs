using Companion.Contracts;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;

namespace Companion.Simulation.Worlds;

/// <summary>Who watches one tablet from outside. Called in the order in which things happen, on the world's thread.</summary>
internal interface ITabletWitness
{
    /// <summary>The loop decided; nothing is durable yet.</summary>
    void Decided(Job? before, Command command, Decision decision, Moment moment);

    /// <summary>The journal is asked to make this durable.</summary>
    void Appending(IReadOnlyList<EntryDraft> drafts);

    /// <summary>The journal has made this durable.</summary>
    void Durable(IReadOnlyList<JournalEntry> entries);

    /// <summary>The loop shows a state.</summary>
    void Settled(Snapshot snapshot);

    /// <summary>Something is to be said.</summary>
    void Said(Prompt prompt);

    /// <summary>The store would not open.</summary>
    void CannotOpen(string words);

    /// <summary>The store is open again.</summary>
    void Reopened(IJournal journal);
}
