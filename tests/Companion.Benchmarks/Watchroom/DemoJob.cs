using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Engine.Codec;
using Companion.Journal;
using Companion.Journal.Proof;
using Companion.TestKit;
using Companion.Uplink;

namespace Companion.Benchmarks.Watchroom;

/// <summary>
/// A watched job of the real loop, second by second of its own clock, kept in a real store that an uplink can send. The technician takes some seconds
/// for every answer and checks in in time. One thread but for the reading.
/// </summary>
internal sealed class DemoJob(JournalStore store, EngineBench bench, string id) : IOutboxSource
{
    private const int AnswerSeconds = 8;
    private const int CheckInSeconds = 600;
    private int kept;
    private long checkedIn;

    /// <summary>The engine.</summary>
    public EngineBench Bench => bench;

    /// <summary>Seconds of the job so far.</summary>
    public long Seconds { get; private set; }

    /// <summary>Done at the end of every second, with true when entries were recorded in it.</summary>
    public Func<long, bool, Task> Second { get; set; } = (_, _) => Task.CompletedTask;

    /// <summary>Opens a job that is watched, every quarter of an hour.</summary>
    public static async Task<DemoJob> OpenAsync(JournalStore store, string id) =>
        new(store, await new EngineBench { Watch = DemoWatch.Even(900, 120) }.OpenAsync(id), id);

    /// <summary>Answers rightly until the job has ended, or until so many seconds are over; hands over when the work is done.</summary>
    public async Task LiveAsync(Func<DemoJob, bool> until)
    {
        while (!until(this) && bench.Job is { Ended: false, Question: { } question })
        {
            await PassAsync(question.Need.Kind == NeedKind.WaitOver ? 1 : AnswerSeconds);
            if (Seconds - checkedIn >= CheckInSeconds)
            {
                checkedIn = Seconds;
                await bench.SayAsync(Phrase.AllRight);
            }
            else if (question.Need.Kind != NeedKind.WaitOver)
            {
                await bench.AnswerRightlyAsync();
            }
        }

        await KeepAsync();
    }

    /// <summary>Does nothing for some seconds but check in in time.</summary>
    public async Task IdleAsync(int seconds)
    {
        for (var second = 0; second < seconds; second++)
        {
            await PassAsync(1);
            if (Seconds - checkedIn >= CheckInSeconds)
            {
                checkedIn = Seconds;
                await bench.SayAsync(Phrase.AllRight);
            }
        }
    }

    public IReadOnlyList<string> Chains() => store.ChainNames();

    public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence) =>
        [.. store.Read(chain, fromSequence).Select(entry => new OutboxLine(entry.Sequence, entry.Hash, ExportLine.Of(entry), entry.Time))];

    private async Task PassAsync(int seconds)
    {
        for (var second = 0; second < seconds; second++)
        {
            await bench.PassAsync(1);
            Seconds++;
            await Second(Seconds, await KeepAsync());
        }
    }

    /// <summary>What the loop recorded, into the store; true when there was anything.</summary>
    private async Task<bool> KeepAsync()
    {
        var drafts = new List<EntryDraft>();
        foreach (var entry in bench.Journal.Read(id, kept + 1))
        {
            kept++;
            if (EventCodec.Read(entry) is { } happened)
            {
                drafts.Add(EventCodec.Draft(id, happened, EventCodec.MomentOf(entry)));
            }
        }

        if (drafts.Count > 0)
        {
            await store.AppendAsync(drafts);
        }

        return drafts.Count > 0;
    }
}
