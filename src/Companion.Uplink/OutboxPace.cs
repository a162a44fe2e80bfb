using Polly;
using Polly.Retry;

namespace Companion.Uplink;

/// <summary>When the outbox sends: once there is more, again after a pause of pure chance that grows, at once when it must not wait. Callable from any thread.</summary>
internal sealed class OutboxPace
{
    private readonly UplinkParts _parts;
    private readonly ResiliencePipeline _pipeline;
    private readonly SemaphoreSlim _more = new(1, 1);
    private readonly SemaphoreSlim _hurry = new(0, 1);

    public OutboxPace(UplinkParts parts)
    {
        _parts = parts;
        _pipeline = new ResiliencePipelineBuilder { TimeProvider = parts.Time }
            .AddRetry(new RetryStrategyOptions
            {
                ShouldHandle = new PredicateBuilder().Handle<NotAcknowledgedException>(),
                MaxRetryAttempts = int.MaxValue,
                DelayGenerator = _ => ValueTask.FromResult<TimeSpan?>(TimeSpan.Zero),
                OnRetry = async attempt => await PauseAsync(Pause(attempt.AttemptNumber), attempt.Context.CancellationToken).ConfigureAwait(false),
            })
            .Build();
    }

    /// <summary>There is more to send.</summary>
    public void Wake() => Signal(_more);

    /// <summary>There is more to send that must not wait: a pause after a failed attempt ends.</summary>
    public void Hurry()
    {
        Signal(_hurry);
        Wake();
    }

    /// <summary>Until there is more to send and it has gathered, or a time is over.</summary>
    /// <param name="atMost">The time; infinite when only more to send counts.</param>
    /// <param name="cancellation">Ends the waiting.</param>
    public async Task MoreAsync(TimeSpan atMost, CancellationToken cancellation)
    {
        using var pause = new CancellationTokenSource(atMost, _parts.Time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancellation, pause.Token);
        try
        {
            await _more.WaitAsync(either.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            // The pause is over.
        }

        await Task.Delay(_parts.Gather, _parts.Time, cancellation).ConfigureAwait(false);

        // What called for haste is part of this round.
        await _hurry.WaitAsync(TimeSpan.Zero, cancellation).ConfigureAwait(false);
    }

    /// <summary>Makes attempts until one throws no <see cref="NotAcknowledgedException"/>.</summary>
    public async Task UntilAcknowledgedAsync(Func<CancellationToken, Task> attempt, CancellationToken cancellation) =>
        await _pipeline.ExecuteAsync(async ending => await attempt(ending).ConfigureAwait(false), cancellation).ConfigureAwait(false);

    private static void Signal(SemaphoreSlim signal)
    {
        try
        {
            signal.Release();
        }
        catch (SemaphoreFullException)
        {
            // It stands already.
        }
    }

    /// <summary>Full jitter: any time up to a bound that doubles, so that tablets that lost the same network do not come back together.</summary>
    private TimeSpan Pause(int attempt) =>
        _parts.Chance() * (attempt > 10 ? _parts.LongestPause : TimeSpan.FromTicks(Math.Min(_parts.LongestPause.Ticks, _parts.FirstPause.Ticks << attempt)));

    private async Task PauseAsync(TimeSpan pause, CancellationToken cancellation)
    {
        using var soon = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        await Task.WhenAny(Task.Delay(pause, _parts.Time, soon.Token), _hurry.WaitAsync(soon.Token)).ConfigureAwait(false);
        await soon.CancelAsync().ConfigureAwait(false);
        cancellation.ThrowIfCancellationRequested();
    }
}
