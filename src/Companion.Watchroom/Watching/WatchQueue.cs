using System.Threading.Channels;

namespace Companion.Watchroom.Watching;

/// <summary>
/// What waits for the keeper's loop, in the order in which it came: beats and acts of people, who wait for their answer, and the passing of time, which a
/// timer puts in. Filled from any thread, emptied by the one loop.
/// </summary>
internal sealed class WatchQueue
{
    private const int Longest = 10_000;
    private const int LargestTurn = 512;

    private readonly Channel<WatchInput> inputs = Channel.CreateBounded<WatchInput>(new BoundedChannelOptions(Longest) { SingleReader = true });
    private readonly TimeProvider time;
    private readonly ITimer timer;
    private int pulseWaits;

    /// <summary>Begins, with a pulse every so often.</summary>
    public WatchQueue(TimeProvider time, TimeSpan pulseEvery)
    {
        this.time = time;
        timer = time.CreateTimer(_ => OnTimer(), null, pulseEvery, pulseEvery);
    }

    /// <summary>Waits for room, and then for the answer of the loop.</summary>
    /// <exception cref="ObjectDisposedException">The watch has ended.</exception>
    public async Task<T> AskAsync<T>(WatchInput<T> input, CancellationToken cancellation)
    {
        try
        {
            await inputs.Writer.WriteAsync(input, cancellation).ConfigureAwait(false);
        }
        catch (ChannelClosedException)
        {
            throw new ObjectDisposedException(nameof(WatchKeeper));
        }

        return await input.Answer.WaitAsync(cancellation).ConfigureAwait(false);
    }

    /// <summary>All that waits, as many at once as are recorded together; ends when the queue is closed and empty.</summary>
    public async IAsyncEnumerable<IReadOnlyList<WatchInput>> TurnsAsync()
    {
        var turn = new List<WatchInput>();
        while (await inputs.Reader.WaitToReadAsync().ConfigureAwait(false))
        {
            while (turn.Count < LargestTurn && inputs.Reader.TryRead(out var input))
            {
                turn.Add(input);
            }

            yield return turn;
            if (turn.Exists(input => input is PulseInput))
            {
                Volatile.Write(ref pulseWaits, 0);
            }

            turn.Clear();
        }
    }

    /// <summary>Takes nothing more; false when it was closed before.</summary>
    public async Task<bool> CloseAsync()
    {
        await timer.DisposeAsync().ConfigureAwait(false);
        return inputs.Writer.TryComplete();
    }

    private void OnTimer()
    {
        // One waiting pulse is enough: when the disk is slow they must not fill the queue.
        if (Interlocked.Exchange(ref pulseWaits, 1) == 0 && !inputs.Writer.TryWrite(new PulseInput(time.GetUtcNow())))
        {
            Volatile.Write(ref pulseWaits, 0);
        }
    }
}
