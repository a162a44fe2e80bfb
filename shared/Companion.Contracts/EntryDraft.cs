namespace Companion.Contracts;

/// <summary>One event before the journal has given it a place in a chain: what the engine asks to have recorded.</summary>
/// <param name="Chain">The job's id, or <see cref="Chains.Tablet"/> for entries outside a job.</param>
/// <param name="Type">The event type, as in the table of the journal format ("wait.started").</param>
/// <param name="Time">Wall clock with offset; information only, never used to measure a wait.</param>
/// <param name="BootId">The running period of the operating system (or the simulated one).</param>
/// <param name="Uptime">CLOCK_BOOTTIME in nanoseconds within that period.</param>
/// <param name="Data">The event's data as a JSON object; numbers are integers, everything fractional is text.</param>
/// <param name="Personal">
/// Member name to text for what must stay erasable (names, heard text, places). The journal puts SHA-256(salt, text) into
/// <paramref name="Data"/> under that name and keeps salt and text beside the chain.
/// </param>
public sealed record EntryDraft(
    string Chain,
    string Type,
    DateTimeOffset Time,
    string BootId,
    long Uptime,
    string Data,
    IReadOnlyDictionary<string, string> Personal);
