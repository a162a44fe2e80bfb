using System.Net;
using Companion.Contracts.Uplink;
using Polly;
using Polly.Retry;
using Polly.Timeout;

namespace Companion.Uplink;

/// <summary>
/// Sends the journal to the watch room in its order. An entry leaves only when the watch room's answer names its chain, its sequence and its hash; what
/// is not acknowledged is sent again, for ever, with growing pauses of pure chance. There is no breaker: the queue is the journal itself, so nothing
/// can be lost by waiting.
/// </summary>
internal sealed class Outbox : IDisposable
{
    /// <summary>Most entries in a batch.</summary>
    public const int MostEntries = 200;

    /// <summary>Most bytes in a batch.</summary>
    public const int MostBytes = UplinkFormat.LargestBatch / 4;

    private readonly UplinkParts _parts;
    private readonly WatchroomClient _client;
    private readonly OutboxPositions _positions;
    private readonly ResiliencePipeline _pipeline;
    private readonly SemaphoreSlim _more = new(1, 1);
    private readonly Dictionary<string, string> _refused = [];
    private readonly Dictionary<string, long> _left = [];
    private readonly Action<Func<UplinkState, UplinkState>> _tell;

    public Outbox(UplinkParts parts, PairedWatchroom paired, DeviceKey key, Action<Func<UplinkState, UplinkState>> tell)
    {
        (_parts, _tell) = (parts, tell);
        _client = new WatchroomClient(paired, key, UplinkFormat.BatchPath, new RequestCounter(Path.Combine(parts.Folder, "batch.counter")));
        _positions = new OutboxPositions(Path.Combine(parts.Folder, "sent.json"));
        _pipeline = Pipeline(parts);
    }

    /// <summary>There is more to send.</summary>
    public void Wake()
    {
        if (_more.CurrentCount == 0)
        {
            try
            {
                _more.Release();
            }
            catch (SemaphoreFullException)
            {
                // Somebody else woke it in the same moment.
            }
        }
    }

    /// <summary>Runs until cancelled.</summary>
    public async Task RunAsync(CancellationToken cancellation)
    {
        while (!cancellation.IsCancellationRequested)
        {
            await _more.WaitAsync(cancellation).ConfigureAwait(false);
            await Task.Delay(_parts.Gather, _parts.Time, cancellation).ConfigureAwait(false);
            await _pipeline.ExecuteAsync(async ending => await SendAllAsync(ending).ConfigureAwait(false), cancellation).ConfigureAwait(false);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _client.Dispose();
        _more.Dispose();
    }

    private static ResiliencePipeline Pipeline(UplinkParts parts) => new ResiliencePipelineBuilder { TimeProvider = parts.Time }
        .AddRetry(new RetryStrategyOptions
        {
            ShouldHandle = new PredicateBuilder().Handle<NotAcknowledgedException>(),
            MaxRetryAttempts = int.MaxValue,
            DelayGenerator = attempt => ValueTask.FromResult<TimeSpan?>(Pause(parts, attempt.AttemptNumber)),
        })
        .Build();

    /// <summary>Full jitter: any time up to a bound that doubles, so that tablets that lost the same network do not come back together.</summary>
    private static TimeSpan Pause(UplinkParts parts, int attempt) =>
        parts.Chance() * (attempt > 10 ? parts.LongestPause : TimeSpan.FromTicks(Math.Min(parts.LongestPause.Ticks, parts.FirstPause.Ticks << attempt)));

    private async Task SendAllAsync(CancellationToken cancellation)
    {
        try
        {
            foreach (var chain in _parts.Source.Chains().Where(chain => !_refused.ContainsKey(chain)))
            {
                await SendChainAsync(chain, cancellation).ConfigureAwait(false);
            }
        }
        catch (Exception cause) when (cause is not NotAcknowledgedException && !cancellation.IsCancellationRequested)
        {
            // Whatever it was, nothing of it was acknowledged, and the link must outlive it.
            _tell(state => state with { OutboxTrouble = cause.Message });
            throw new NotAcknowledgedException(cause.Message, cause);
        }

        _tell(state => state with { OutboxTrouble = _refused.Count == 0 ? null : string.Join(" ", _refused.Values) });
    }

    private async Task SendChainAsync(string chain, CancellationToken cancellation)
    {
        while (_parts.Source.Read(chain, _positions.Of(chain) + 1) is { Count: > 0 } lines)
        {
            TellWaiting(chain, lines.Count);
            var batch = BatchOf(lines);
            var answer = await SendAsync(batch, cancellation).ConfigureAwait(false);
            _tell(state => state with { BytesByChain = state.BytesByChain.SetItem(chain, state.BytesByChain.GetValueOrDefault(chain) + Length(batch)) });
            if (!Acknowledge(chain, batch, answer))
            {
                return;
            }
        }

        TellWaiting(chain, 0);
    }

    private void TellWaiting(string chain, long left)
    {
        _left[chain] = left;
        var waiting = _left.Values.Sum();
        _tell(state => state with { Waiting = waiting });
    }

    /// <summary>True when there may be more of this chain to send.</summary>
    private bool Acknowledge(string chain, IReadOnlyList<OutboxLine> batch, WatchroomClient.Answer answer)
    {
        var held = answer.Read<BatchAnswer>();
        if (held is not null && held.Chain == chain && answer.IsSuccess && held.Sequence >= batch[0].Sequence && IsOurs(held))
        {
            _positions.Set(chain, held.Sequence);
            return true;
        }

        if (held is not null && held.Chain == chain && answer.Status == HttpStatusCode.Conflict && held.Sequence < batch[0].Sequence && IsOurs(held))
        {
            // It lost what it had acknowledged: it is sent again from there.
            _positions.Set(chain, held.Sequence);
            return true;
        }

        if (answer.Status is HttpStatusCode.Conflict or HttpStatusCode.UnprocessableEntity && answer.Read<Refused>() is { LeastCounter: null } refused)
        {
            _refused[chain] = $"{chain}: {refused.Reason}";
            return false;
        }

        _tell(state => state with { OutboxTrouble = answer.Trouble });
        throw new NotAcknowledgedException(answer.Trouble);
    }

    private bool IsOurs(BatchAnswer held) =>
        held.Sequence == 0 || _parts.Source.Read(held.Chain, held.Sequence).FirstOrDefault() is { } line && line.Sequence == held.Sequence && line.Hash == held.Head;

    private async Task<WatchroomClient.Answer> SendAsync(IReadOnlyList<OutboxLine> batch, CancellationToken cancellation)
    {
        var body = new MemoryStream(Length(batch));
        foreach (var line in batch)
        {
            body.Write(line.Line.Span);
            body.WriteByte((byte)'\n');
        }

        try
        {
            return await new ResiliencePipelineBuilder { TimeProvider = _parts.Time }.AddTimeout(_parts.AttemptTimeout).Build()
                .ExecuteAsync(async ending => await _client.PostAsync(body.ToArray(), "application/x-ndjson", ending).ConfigureAwait(false), cancellation)
                .ConfigureAwait(false);
        }
        catch (Exception cause) when (cause is HttpRequestException or TimeoutRejectedException or IOException)
        {
            _tell(state => state with { OutboxTrouble = Unreachable });
            throw new NotAcknowledgedException(Unreachable, cause);
        }
    }

    private const string Unreachable = "The watch room is out of reach. Everything is kept here and sent later.";

    private static List<OutboxLine> BatchOf(IReadOnlyList<OutboxLine> lines)
    {
        var batch = new List<OutboxLine>();
        var bytes = 0;
        foreach (var line in lines.Take(MostEntries))
        {
            bytes += line.Line.Length + 1;
            if (batch.Count > 0 && bytes > MostBytes)
            {
                break;
            }

            batch.Add(line);
        }

        return batch;
    }

    private static int Length(IReadOnlyList<OutboxLine> batch) => batch.Sum(line => line.Line.Length + 1);

    /// <summary>Nothing that was sent counts as held over there.</summary>
    private sealed class NotAcknowledgedException(string message, Exception? cause = null) : Exception(message, cause);
}
