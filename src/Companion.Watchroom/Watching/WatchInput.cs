using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>What comes to the keeper's loop, with the time at which it was received. Answered when durable.</summary>
internal abstract class WatchInput(DateTimeOffset at)
{
    /// <summary>When it was received, by the watch room's clock.</summary>
    public DateTimeOffset At => at;

    /// <summary>The calls of a tablet that it states: not answered before they are in the record.</summary>
    public virtual IEnumerable<(WatchId Watch, string Call)> Calls => [];

    /// <summary>Does what it asks for.</summary>
    public abstract void Do(WatchTurn turn, DateTimeOffset now);

    /// <summary>All of it is durable.</summary>
    public abstract void Succeed(WatchBook book);

    /// <summary>It was not recorded.</summary>
    public abstract void Fail(Exception cause);
}

/// <summary>An input whose asker waits for an answer.</summary>
internal abstract class WatchInput<T>(DateTimeOffset at) : WatchInput(at)
{
    private readonly TaskCompletionSource<T> answer = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>The answer.</summary>
    public Task<T> Answer => answer.Task;

    /// <inheritdoc/>
    public override void Succeed(WatchBook book) => answer.TrySetResult(AnswerFrom(book));

    /// <inheritdoc/>
    public override void Fail(Exception cause) => answer.TrySetException(cause);

    /// <summary>The answer, read from what is durable.</summary>
    protected abstract T AnswerFrom(WatchBook book);
}

/// <summary>Time passed.</summary>
internal sealed class PulseInput(DateTimeOffset at) : WatchInput<bool>(at)
{
    /// <inheritdoc/>
    public override void Do(WatchTurn turn, DateTimeOffset now)
    {
        // The loop lets time pass before every input; there is nothing else to this one.
    }

    /// <inheritdoc/>
    protected override bool AnswerFrom(WatchBook book) => true;
}

/// <summary>A beat.</summary>
internal sealed class BeatInput(DateTimeOffset at, string device, Beat beat) : WatchInput<BeatAnswer>(at)
{
    private readonly WatchId id = new(device, beat.Job ?? "", beat.Rehearsal);

    /// <inheritdoc/>
    public override IEnumerable<(WatchId Watch, string Call)> Calls => beat.Alerts.Select(call => (id, call.Id));

    /// <inheritdoc/>
    public override void Do(WatchTurn turn, DateTimeOffset now) => turn.Beat(device, beat, now);

    /// <inheritdoc/>
    protected override BeatAnswer AnswerFrom(WatchBook book)
    {
        if ((book.Find(id) ?? book.Over.GetValueOrDefault(id)) is not { } watched)
        {
            return new BeatAnswer(0, []);
        }

        var taken = beat.Alerts
            .Where(call => watched.Calls.ContainsKey(call.Id))
            .Select(call => (call.Id, book.Alerts[watched.Calls[call.Id]].Alert.Taken))
            .Where(call => call.Taken is not null)
            .Select(call => new TakenCall(call.Id, call.Taken!.Person));
        return new BeatAnswer(watched.Shown.CheckIn ?? 0, [.. taken]);
    }
}

/// <summary>Somebody takes an alert.</summary>
internal sealed class TakeInput(DateTimeOffset at, string alert, string person, string note) : WatchInput<bool>(at)
{
    private bool exists;

    /// <inheritdoc/>
    public override void Do(WatchTurn turn, DateTimeOffset now) => exists = turn.Take(alert, person, note, now);

    /// <inheritdoc/>
    protected override bool AnswerFrom(WatchBook book) => exists;
}

/// <summary>Somebody ends a watch.</summary>
internal sealed class EndInput(DateTimeOffset at, string device, string job, string person, string reason) : WatchInput<bool>(at)
{
    private bool existed;

    /// <inheritdoc/>
    public override void Do(WatchTurn turn, DateTimeOffset now) => existed = turn.End(device, job, person, reason, now);

    /// <inheritdoc/>
    protected override bool AnswerFrom(WatchBook book) => existed;
}
