using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using System.Threading.Channels;
using Companion.Contracts;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>
/// Makes decisions durable. While the disk is slow it keeps taking inputs so that warnings sound and the pulse is seen; the inputs
/// wait, in order, until the append is done.
/// </summary>
internal sealed class Recorder(IJournal journal, ChannelReader<Input> inbox, Func<Input, bool> warnAtOnce, Action<string> doubt)
{
    /// <summary>An append that takes longer than this puts the record in doubt.</summary>
    public static readonly Ticks Patience = Ticks.OfSeconds(2);

    private readonly Queue<Input> _backlog = new();

    /// <summary>The oldest input that arrived during an append.</summary>
    public bool TryTakeBacklog([NotNullWhen(true)] out Input? input) => _backlog.TryDequeue(out input);

    /// <summary>What is decided before anything that waits in the inbox: a device may have reported before the engine began.</summary>
    public void TakeFirst(Input input) => _backlog.Enqueue(input);

    /// <summary>The durable entries; null when the store failed, after <c>doubt</c> was called.</summary>
    public async Task<IReadOnlyList<JournalEntry>?> RecordAsync(string chain, ImmutableArray<JobEvent> events, Moment moment)
    {
        if (events.IsEmpty)
        {
            return [];
        }

        var drafts = events.Select(happened => EventCodec.Draft(chain, happened, moment)).ToList();
        try
        {
            var append = journal.AppendAsync(drafts);
            return append.IsCompletedSuccessfully ? append.Result : await WaitAsync(append.AsTask(), moment).ConfigureAwait(false);
        }
        catch (StoreFaultException fault)
        {
            doubt(fault.Message);
            return null;
        }
    }

    private async Task<IReadOnlyList<JournalEntry>?> WaitAsync(Task<IReadOnlyList<JournalEntry>> append, Moment since)
    {
        while (!append.IsCompleted)
        {
            await Task.WhenAny(append, inbox.WaitToReadAsync().AsTask()).ConfigureAwait(false);
            while (!append.IsCompleted && inbox.TryRead(out var input))
            {
                warnAtOnce(input);
                if (input is not CommandInput { Command: Tick })
                {
                    _backlog.Enqueue(input);
                }
                else if (Hangs(input.Arrived, since))
                {
                    // Nothing is appended any more in this run, so the loop need not wait for what may never end.
                    Forget(append);
                    doubt("The store does not answer. Check the disk, then restart the Companion.");
                    return null;
                }
            }
        }

        return await append.ConfigureAwait(false);
    }

    private static bool Hangs(Moment now, Moment since) => now.BootId != since.BootId || now.Boot - since.Boot > Patience;

    private static void Forget(Task append) =>
        append.ContinueWith(ended => _ = ended.Exception, CancellationToken.None, TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
}
