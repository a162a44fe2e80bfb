using System.Text.Json;
using System.Threading.Channels;
using Companion.Contracts;
using Companion.Engine.Ports;

namespace Companion.Watchroom.Access;

/// <summary>
/// Writes what bears on security into the journal's chain "audit": acts always, refusals only so many a minute for each device and kind, with
/// the number of those left out in the next one, so that nobody can fill the disk by being refused. Callable from any thread.
/// </summary>
internal sealed class Audit : IAsyncDisposable
{
    /// <summary>The chain's name.</summary>
    public const string Chain = "audit";

    /// <summary>Refusals of one kind that are written in a minute for one device.</summary>
    public const int MostAMinute = 6;

    /// <summary>Under this name stand all that are not known: a stranger chooses the name it gives.</summary>
    public const string Stranger = "unknown";

    private const int Waiting = 1000;
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan Window = TimeSpan.FromMinutes(1);
    private readonly IJournal journal;
    private readonly IClock clock;
    private readonly Dictionary<(string Device, string Kind), Counted> counts = [];
    private readonly Channel<EntryDraft> queue = Channel.CreateBounded<EntryDraft>(new BoundedChannelOptions(Waiting) { SingleReader = true });
    private readonly Task writer;

    public Audit(IJournal journal, IClock clock)
    {
        this.journal = journal;
        this.clock = clock;
        writer = Task.Run(WriteAsync);
    }

    /// <summary>Why the audit chain is not written any more; null while it is. The board shows it.</summary>
    public string? Fault { get; private set; }

    /// <summary>A request was refused. Never waits: when the disk is behind, it is counted among those left out.</summary>
    public void Refused(string device, string kind, int status, string reason) =>
        Count(device, kind, "request.refused", leftOut => new { device, kind, status, reason, leftout = leftOut });

    /// <summary>Somebody who is not signed in checked a paper. Never waits, and is counted as refusals are: a paper can be checked over and over.</summary>
    public void Checked(string device, string job, long entry, string verdict) =>
        Count(device, "paper", "paper.checked", leftOut => new { device, job, entry, verdict, leftout = leftOut });

    /// <summary>Somebody did something that bears on security. Durable when this completes.</summary>
    /// <param name="type">"device.paired", "session.begun" ...</param>
    /// <param name="data">What is no person's affair.</param>
    /// <param name="personal">Names of people: they can be erased later.</param>
    public async Task ActAsync(string type, object data, params (string Member, string Text)[] personal)
    {
        try
        {
            await journal.AppendAsync([Draft(type, data, personal)]).ConfigureAwait(false);
        }
        catch (Exception fault) when (fault is StoreFaultException or ArgumentException)
        {
            // Nobody who must be told is kept from the board by a full disk; the board says that the record stands still.
            Fault = fault.Message;
        }
    }

    /// <summary>
    /// The same for an act that holds at once: waits two seconds for the disk and no longer, because nobody may be kept from the board by a disk that hangs or a
    /// record that is still being read. It is written when the disk goes on.
    /// </summary>
    public Task ActSoonAsync(string type, object data, params (string Member, string Text)[] personal) =>
        Task.WhenAny(ActAsync(type, data, personal), Task.Delay(LongestWait));

    /// <summary>Somebody looked at a job of a tablet, or took it away: "timeline", "replay", "review", "export" ... Durable when this completes.</summary>
    public Task LookedAsync(string person, string device, string job, string what) =>
        ActAsync("job.looked", new { device, job, what }, ("person", person));

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        queue.Writer.TryComplete();
        await writer.ConfigureAwait(false);
    }

    private void Count(string device, string kind, string type, Func<long, object> dataWith)
    {
        lock (counts)
        {
            var key = (device, kind);
            var now = clock.Now().Wall;
            if (!counts.TryGetValue(key, out var count))
            {
                counts[key] = count = new Counted { Since = now };
            }

            if ((now - count.Since).Duration() >= Window)
            {
                (count.Since, count.Written) = (now, 0);
            }

            if (count.Written < MostAMinute && queue.Writer.TryWrite(Draft(type, dataWith(count.LeftOut), [])))
            {
                count.Written++;
                count.LeftOut = 0;
            }
            else
            {
                count.LeftOut++;
            }
        }
    }

    private async Task WriteAsync()
    {
        await foreach (var draft in queue.Reader.ReadAllAsync().ConfigureAwait(false))
        {
            try
            {
                await journal.AppendAsync([draft]).ConfigureAwait(false);
            }
            catch (Exception fault) when (fault is StoreFaultException or ArgumentException)
            {
                Fault = fault.Message;
            }
        }
    }

    private EntryDraft Draft(string type, object data, (string Member, string Text)[] personal)
    {
        var now = clock.Now();
        return new EntryDraft(
            Chain,
            type,
            now.Wall,
            now.BootId,
            now.Boot.Nanoseconds,
            JsonSerializer.Serialize(data),
            personal.ToDictionary(text => text.Member, text => text.Text));
    }

    private sealed class Counted
    {
        public DateTimeOffset Since { get; set; }

        public int Written { get; set; }

        public int LeftOut { get; set; }
    }
}
