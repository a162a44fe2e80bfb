using System.Threading.Channels;

namespace Companion.Journal;

/// <summary>
/// The one thread that writes, behind a bounded queue: callers wait when it is full. Work runs in order of arrival; its exceptions go
/// to the caller that asked. Callable from any thread.
/// </summary>
internal sealed class WriterThread
{
    /// <summary>Appends waiting at most; the loop awaits each of its own, so a longer queue would mean a caller gone wild.</summary>
    private const int LongestQueue = 256;

    private readonly Channel<Action> queue = Channel.CreateBounded<Action>(new BoundedChannelOptions(LongestQueue)
    {
        SingleReader = true,

        // What continues is only this thread waking up or a caller going on to wait: a detour through the pool would cost more.
        AllowSynchronousContinuations = true,
    });
    private readonly TaskCompletionSource stopped = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private readonly Action afterEach;

    /// <summary>
    /// Starts the thread. <paramref name="afterEach"/> runs on it after each work, when its caller has already been told.
    /// </summary>
    public WriterThread(Action afterEach)
    {
        this.afterEach = afterEach;
        new Thread(Loop) { IsBackground = true, Name = "journal writer" }.Start();
    }

    /// <summary>Runs work on the thread and returns its result. Cancelling works only until it is queued.</summary>
    public async Task<T> Run<T>(Func<T> work, CancellationToken cancellation)
    {
        var done = new TaskCompletionSource<T>(TaskCreationOptions.RunContinuationsAsynchronously);
        try
        {
            await queue.Writer.WriteAsync(() => Complete(work, done), cancellation).ConfigureAwait(false);
        }
        catch (ChannelClosedException)
        {
            throw new ObjectDisposedException(nameof(JournalStore));
        }

        return await done.Task.ConfigureAwait(false);
    }

    /// <summary>Ends the thread after the work already queued.</summary>
    public Task StopAsync()
    {
        queue.Writer.TryComplete();
        return stopped.Task;
    }

    private static void Complete<T>(Func<T> work, TaskCompletionSource<T> done)
    {
        try
        {
            done.SetResult(work());
        }
        catch (Exception cause)
        {
            done.SetException(cause);
        }
    }

    private void Loop()
    {
        while (queue.Reader.WaitToReadAsync().AsTask().GetAwaiter().GetResult())
        {
            while (queue.Reader.TryRead(out var work))
            {
                work();
                afterEach();
            }
        }

        stopped.SetResult();
    }
}
