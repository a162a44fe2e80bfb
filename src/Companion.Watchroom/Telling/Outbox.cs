using System.Text.Json;
using Companion.Contracts;
using Companion.Engine.Ports;

namespace Companion.Watchroom.Telling;

/// <summary>
/// What was told and what failed, in the journal's chain "telling". The alert's id names its kind, and the target may be a person: both lie
/// beside the chain and can be erased.
/// </summary>
internal sealed class Outbox(IJournal journal, IClock clock)
{
    /// <summary>The chain's name.</summary>
    public const string Chain = "telling";

    private const string Sent = "told.sent";
    private const string Failed = "told.failed";
    private const string Id = "telling";

    /// <summary>When each telling was taken by the other side, by its id, from before a restart.</summary>
    public Dictionary<string, DateTimeOffset> ReadSent()
    {
        var sent = new Dictionary<string, DateTimeOffset>();
        foreach (var entry in journal.Read(Chain).Where(entry => entry.Type == Sent))
        {
            if (entry.Sealed.TryGetValue(Id, out var id))
            {
                sent[id.Text] = entry.Time;
            }
        }

        return sent;
    }

    /// <summary>The other side took it. Durable when this completes.</summary>
    public ValueTask<IReadOnlyList<JournalEntry>> SentAsync(Telling telling, int attempt) => WriteAsync(Sent, telling, attempt, null);

    /// <summary>An attempt failed.</summary>
    public ValueTask<IReadOnlyList<JournalEntry>> FailedAsync(Telling telling, int attempt, string reason) => WriteAsync(Failed, telling, attempt, reason);

    private ValueTask<IReadOnlyList<JournalEntry>> WriteAsync(string type, Telling telling, int attempt, string? reason)
    {
        var now = clock.Now();
        var channel = telling.Target.Channel.ToString().ToLowerInvariant();
        var personal = new Dictionary<string, string> { [Id] = telling.Id, ["alert"] = telling.Alert.Id, ["target"] = telling.Target.Name };
        if (reason is not null)
        {
            personal["reason"] = reason;
        }

        return journal.AppendAsync(
            [new EntryDraft(Chain, type, now.Wall, now.BootId, now.Boot.Nanoseconds, JsonSerializer.Serialize(new { channel, attempt }), personal)]);
    }
}
