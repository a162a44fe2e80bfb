using System.Collections.Immutable;
using System.Net;
using Companion.Contracts.Uplink;
using Polly;
using Polly.Timeout;

namespace Companion.Uplink;

/// <summary>
/// Sends the journal to the watch room in its order. An entry leaves only when the watch room's answer names its chain, its sequence and its hash; what
/// is not acknowledged is sent again, for ever, with growing pauses of pure chance. There is no breaker: the queue is the journal itself, so nothing
/// can be lost by waiting.
/// </summary>
internal sealed class Outbox : IDisposable
{
    private readonly UplinkParts _parts;
    private readonly WatchroomClient _client;
    private readonly OutboxPositions _positions;
    private readonly OutboxPace _pace;
    private readonly Dictionary<string, (RefusedChain Chain, long Since)> _refused = [];
    private readonly WaitingEntries _waiting;
    private readonly BatchCutter _batches = new();

    // Chains whose last acknowledged entry is sent once more: a watch room that came back from an older copy answers that with what it still holds.
    private readonly HashSet<string> _inDoubt = [];
    private bool _wasAway = true;
    private readonly Action<Func<UplinkState, UplinkState>> _tell;

    public Outbox(UplinkParts parts, PairedWatchroom paired, DeviceKey key, Action<Func<UplinkState, UplinkState>> tell)
    {
        (_parts, _tell) = (parts, tell);
        _client = new WatchroomClient(paired, key, UplinkFormat.BatchPath, new RequestCounter(Path.Combine(parts.Folder, "batch.counter")), parts.Network?.Invoke());
        _positions = new OutboxPositions(parts.PositionsFile);
        _waiting = new WaitingEntries(parts.Source);
        _pace = new OutboxPace(parts);
    }

    /// <summary>There is more to send.</summary>
    public void Wake() => _pace.Wake();

    /// <summary>There is more to send that must not wait: a pause after a failed attempt ends.</summary>
    public void Hurry() => _pace.Hurry();

    /// <summary>Runs until cancelled.</summary>
    public async Task RunAsync(CancellationToken cancellation)
    {
        while (!cancellation.IsCancellationRequested)
        {
            await _pace.MoreAsync(_refused.Count > 0 ? _parts.RefusedPause : Timeout.InfiniteTimeSpan, cancellation).ConfigureAwait(false);
            await _pace.UntilAcknowledgedAsync(SendAllAsync, cancellation).ConfigureAwait(false);
        }
    }

    /// <summary>One attempt at all that waits; false when something of it was not acknowledged.</summary>
    public async Task<bool> TryOnceAsync(CancellationToken cancellation)
    {
        try
        {
            await SendAllAsync(cancellation).ConfigureAwait(false);
            return true;
        }
        catch (NotAcknowledgedException)
        {
            return false;
        }
    }

    /// <summary>Ends the connection. The signals stay, because the loop may call in the same moment; they hold nothing of the system.</summary>
    public void Dispose() => _client.Dispose();

    /// <summary>One round over all chains. A chain that the watch room cannot take holds up no other; a link that fails ends the round.</summary>
    private async Task SendAllAsync(CancellationToken cancellation)
    {
        ChainNotTakenException? notTaken = null;
        try
        {
            var chains = _parts.Source.Chains();
            if (_wasAway && chains.Count > 0)
            {
                _inDoubt.Add(chains[0]);
                _wasAway = false;
            }

            foreach (var chain in chains.Where(chain => !IsResting(chain)))
            {
                try
                {
                    await SendChainAsync(chain, cancellation).ConfigureAwait(false);
                }
                catch (HoldsMoreException more)
                {
                    await ShowAsync(chain, more.After, cancellation).ConfigureAwait(false);
                    notTaken ??= more;
                }
                catch (ChainNotTakenException cause)
                {
                    notTaken ??= cause;
                }
            }
        }
        catch (NotAcknowledgedException)
        {
            CountWaiting();
            throw;
        }
        catch (Exception cause) when (!cancellation.IsCancellationRequested)
        {
            // Whatever it was, nothing of it was acknowledged, and the link must outlive it.
            _tell(state => state with { OutboxTrouble = cause.Message });
            throw new NotAcknowledgedException(cause.Message, cause);
        }

        CountWaiting();
        var troubles = _refused.Values.Select(refused => $"{refused.Chain.Chain}: {refused.Chain.Reason}").Concat(notTaken is null ? [] : [notTaken.Message]).ToList();
        _tell(state => state with { OutboxTrouble = troubles.Count == 0 ? null : string.Join(" ", troubles) });
        if (notTaken is not null)
        {
            throw notTaken;
        }
    }

    private bool IsResting(string chain) =>
        _refused.TryGetValue(chain, out var refused) && _parts.Time.GetElapsedTime(refused.Since) < _parts.RefusedPause;

    /// <summary>Chains whose turn did not come, and those that rest, wait too.</summary>
    private void CountWaiting()
    {
        try
        {
            foreach (var chain in _parts.Source.Chains())
            {
                _waiting.Look(chain, _positions.Of(chain));
            }

            TellWaiting();
        }
        catch (Exception)
        {
            // A journal that cannot be read is told by the next round; the sending must outlive it.
        }
    }

    private async Task SendChainAsync(string chain, CancellationToken cancellation)
    {
        if (_inDoubt.Contains(chain) && !await AskAgainAsync(chain, cancellation).ConfigureAwait(false))
        {
            return;
        }

        while (_parts.Source.Read(chain, _positions.Of(chain) + 1) is { Count: > 0 } lines)
        {
            TellWaiting(chain);
            var batch = _batches.Cut(lines);
            var answer = await SendAsync(batch, cancellation).ConfigureAwait(false);
            _tell(state => state with { BytesByChain = state.BytesByChain.SetItem(chain, state.BytesByChain.GetValueOrDefault(chain) + BatchCutter.Length(batch)) });
            if (!Acknowledge(chain, batch, answer))
            {
                return;
            }
        }

        TellWaiting(chain);
    }

    /// <summary>Sends the last acknowledged entry of a chain again, which changes nothing over there unless it was lost. True when there may be more to send.</summary>
    private async Task<bool> AskAgainAsync(string chain, CancellationToken cancellation)
    {
        var held = _positions.Of(chain);
        if (held > 0 && _parts.Source.Read(chain, held).FirstOrDefault() is { } last)
        {
            var answer = await SendAsync([last], cancellation).ConfigureAwait(false);
            // One small entry that gets through says nothing of what a slow link carries.
            var most = _batches.Most;
            var more = Acknowledge(chain, [last], answer);
            _batches.Most = most;
            if (!more)
            {
                return false;
            }
        }

        _inDoubt.Remove(chain);
        return true;
    }

    /// <summary>
    /// The watch room holds more than this tablet has, as after its store was put back to an older copy. What follows here is shown to it all the same,
    /// so that it keeps both and says so; nothing of it counts as held.
    /// </summary>
    private async Task ShowAsync(string chain, long after, CancellationToken cancellation)
    {
        while (!_refused.ContainsKey(chain) && _parts.Source.Read(chain, after + 1) is { Count: > 0 } lines)
        {
            var batch = _batches.Cut(lines);
            try
            {
                Acknowledge(chain, batch, await SendAsync(batch, cancellation).ConfigureAwait(false));
                return;
            }
            catch (HoldsMoreException more)
            {
                after = more.After;
            }
            catch (ChainNotTakenException)
            {
                return;
            }
        }
    }

    private void TellWaiting(string chain)
    {
        _waiting.Look(chain, _positions.Of(chain));
        TellWaiting();
    }

    private void TellWaiting()
    {
        var (count, bytes, since) = (_waiting.Count, _waiting.Bytes, _waiting.Since);
        _tell(state => state with { Waiting = count, WaitingBytes = bytes, WaitingSince = since });
    }

    private void TellRefused()
    {
        ImmutableArray<RefusedChain> refused = [.. _refused.Values.Select(some => some.Chain)];
        _tell(state => state with { Refused = refused });
    }

    /// <summary>True when there may be more of this chain to send.</summary>
    private bool Acknowledge(string chain, IReadOnlyList<OutboxLine> batch, WatchroomClient.Answer answer)
    {
        var held = answer.Read<BatchAnswer>();
        if (held is not null && held.Chain == chain && answer.IsSuccess && held.Sequence >= batch[0].Sequence && IsOurs(held))
        {
            _positions.Set(chain, held.Sequence);
            if (_refused.Remove(chain))
            {
                TellRefused();
            }

            _batches.Grow();
            return true;
        }

        if (held is not null && held.Chain == chain && answer.Status == HttpStatusCode.Conflict && held.Sequence < _positions.Of(chain) && IsOurs(held))
        {
            // It lost what it had acknowledged: it is sent again from there. What it lost of this chain it may have lost of every other.
            _positions.Set(chain, held.Sequence);
            _inDoubt.UnionWith(_parts.Source.Chains().Where(other => other != chain));
            Wake();
            return true;
        }

        if (answer.Status is HttpStatusCode.BadRequest or HttpStatusCode.Conflict or HttpStatusCode.UnprocessableEntity
            && answer.Read<Refused>() is { LeastCounter: null } refused)
        {
            _refused[chain] = (new RefusedChain(chain, refused.Reason), _parts.Time.GetTimestamp());
            TellRefused();
            return false;
        }

        // It is the watch room that speaks, of this chain alone: 503 may be a full disk over there, or one damaged file.
        if (held is not null || (answer.Status is HttpStatusCode.ServiceUnavailable && answer.Read<Refused>() is not null))
        {
            _batches.Shrink();
            if (held is null)
            {
                throw new ChainNotTakenException($"{chain}: {answer.Trouble}");
            }

            var words = $"{chain}: what the watch room holds does not fit this tablet's record. Verify the store, and tell the team lead.";
            throw held.Chain == chain && answer.IsSuccess && held.Sequence > batch[^1].Sequence
                ? new HoldsMoreException(words, batch[^1].Sequence)
                : new ChainNotTakenException(words);
        }

        _tell(state => state with { OutboxTrouble = answer.Trouble });
        throw new NotAcknowledgedException(answer.Trouble);
    }

    private bool IsOurs(BatchAnswer held) =>
        held.Sequence == 0 || _parts.Source.Read(held.Chain, held.Sequence).FirstOrDefault() is { } line && line.Sequence == held.Sequence && line.Hash == held.Head;

    private async Task<WatchroomClient.Answer> SendAsync(IReadOnlyList<OutboxLine> batch, CancellationToken cancellation)
    {
        var body = new MemoryStream(BatchCutter.Length(batch));
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
            _batches.Shrink();
            _wasAway = true;
            var trouble = $"{WatchroomClient.TroubleOf(cause)} Everything is kept here and sent later.";
            _tell(state => state with { OutboxTrouble = trouble });
            throw new NotAcknowledgedException(trouble, cause);
        }
    }
}
