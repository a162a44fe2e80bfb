using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Uplink;

namespace Companion.Tablet.Linking;

/// <summary>The tablet's journal for the outbox: every chain, with the personal texts that have not been erased.</summary>
internal sealed class JournalOutbox(IJournal journal) : IOutboxSource
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Chains() => journal.ChainNames();

    /// <inheritdoc/>
    public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence) =>
        [.. journal.Read(chain, fromSequence).Select(entry => new OutboxLine(entry.Sequence, entry.Hash, ExportLine.Of(entry), entry.Time))];
}
