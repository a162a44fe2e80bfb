namespace Companion.Contracts;

/// <summary>One durable entry: a CloudEvents 1.0 object with its place in a hash chain.</summary>
/// <param name="Chain">The chain it belongs to: a job's id or <see cref="Chains.Tablet"/>.</param>
/// <param name="Sequence">Its number in that chain, from 1.</param>
/// <param name="Type">The event type.</param>
/// <param name="Time">Wall clock with offset, as it was at the time.</param>
/// <param name="BootId">The running period of the operating system.</param>
/// <param name="Uptime">CLOCK_BOOTTIME in nanoseconds within that period.</param>
/// <param name="Rehearsal">True in a rehearsal store, where boot id and uptime are simulated.</param>
/// <param name="Data">The data member as a JSON object text.</param>
/// <param name="PreviousHash">Hash of the entry before, lower-case hex; 64 zeros for the first.</param>
/// <param name="Hash">SHA-256 over the 32 bytes of the previous hash and the RFC 8785 form without this member.</param>
/// <param name="Bytes">The RFC 8785 form as stored, sent and exported, UTF-8.</param>
/// <param name="Sealed">Personal texts of this entry that have not been erased; outside the hash.</param>
public sealed record JournalEntry(
    string Chain,
    long Sequence,
    string Type,
    DateTimeOffset Time,
    string BootId,
    long Uptime,
    bool Rehearsal,
    string Data,
    string PreviousHash,
    string Hash,
    ReadOnlyMemory<byte> Bytes,
    IReadOnlyDictionary<string, SealedText> Sealed)
{
    /// <summary>The version of the format it was written in, from the attribute `dataschema`.</summary>
    public int Format { get; init; } = 1;
}
