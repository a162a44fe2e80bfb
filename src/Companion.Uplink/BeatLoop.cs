using System.Text.Json;
using Companion.Contracts.Uplink;
using Polly;

namespace Companion.Uplink;

/// <summary>
/// Sends the newest beat every few seconds, and at once when there is reason, over a connection of its own: a batch that hangs delays none. A beat that
/// did not arrive is not sent again: the next one says more.
/// </summary>
internal sealed class BeatLoop : IDisposable
{
    private readonly UplinkParts _parts;
    private readonly WatchroomClient _client;
    private readonly ResiliencePipeline _pipeline;
    private readonly SemaphoreSlim _now = new(0, 1);
    private readonly Action<BeatAnswer> _answered;
    private readonly Action<Func<UplinkState, UplinkState>> _tell;

    public BeatLoop(UplinkParts parts, PairedWatchroom paired, DeviceKey key, Action<BeatAnswer> answered, Action<Func<UplinkState, UplinkState>> tell)
    {
        (_parts, _answered, _tell) = (parts, answered, tell);
        _client = new WatchroomClient(paired, key, UplinkFormat.BeatPath, new RequestCounter(Path.Combine(parts.Folder, "beat.counter")), parts.Network?.Invoke());
        _pipeline = new ResiliencePipelineBuilder { TimeProvider = parts.Time }.AddTimeout(parts.BeatTimeout).Build();
    }

    /// <summary>Something happened that the watch room should hear of now.</summary>
    public void Nudge()
    {
        try
        {
            _now.Release();
        }
        catch (SemaphoreFullException)
        {
            // The next beat goes at once as it is.
        }
    }

    /// <summary>Runs until cancelled.</summary>
    public async Task RunAsync(CancellationToken cancellation)
    {
        while (!cancellation.IsCancellationRequested)
        {
            await SendAsync(cancellation).ConfigureAwait(false);
            await WaitAsync(cancellation).ConfigureAwait(false);
        }
    }

    /// <summary>Ends the connection. The signal stays, because the loop may call in the same moment; it holds nothing of the system's.</summary>
    public void Dispose() => _client.Dispose();

    private async Task WaitAsync(CancellationToken cancellation)
    {
        using var soon = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        var every = Task.Delay(_parts.BeatEvery, _parts.Time, soon.Token);
        var nudged = _now.WaitAsync(soon.Token);
        await Task.WhenAny(every, nudged).ConfigureAwait(false);
        await soon.CancelAsync().ConfigureAwait(false);
    }

    /// <summary>Sends one beat, the newest. Its trouble is told, never thrown.</summary>
    public async Task SendAsync(CancellationToken cancellation)
    {
        var sent = _parts.Time.GetTimestamp();
        try
        {
            var body = JsonSerializer.SerializeToUtf8Bytes(_parts.Beat(), UplinkFormat.Json);
            var answer = await _pipeline.ExecuteAsync(
                async ending => await _client.PostAsync(body, "application/json", ending).ConfigureAwait(false), cancellation).ConfigureAwait(false);
            if (answer.IsSuccess && answer.Read<BeatAnswer>() is { } kept)
            {
                _tell(state => state with { LastAnswer = sent, BeatTrouble = null });
                _answered(kept);
                return;
            }

            _tell(state => state with { BeatTrouble = answer.Trouble });
        }
        catch (Exception cause) when (!cancellation.IsCancellationRequested)
        {
            // Whatever it was, the next beat must go out.
            var trouble = WatchroomClient.TroubleOf(cause) ?? cause.Message;
            _tell(state => state with { BeatTrouble = trouble });
        }
    }
}
