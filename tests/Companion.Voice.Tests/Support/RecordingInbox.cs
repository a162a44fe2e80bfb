using System.Collections.Concurrent;
using Companion.Engine.Ports;

namespace Companion.Voice.Tests.Support;

/// <summary>An inbox that keeps what it is given, and lets a test wait for it.</summary>
public sealed class RecordingInbox : IInbox
{
    private readonly ConcurrentQueue<object> all = new();

    public IReadOnlyList<object> All => [.. all];

    public IReadOnlyList<Hearing> Hearings => [.. all.OfType<Hearing>()];

    public IReadOnlyList<PromptReceipt> Receipts => [.. all.OfType<PromptReceipt>()];

    public IReadOnlyList<DeviceNotice> Notices => [.. all.OfType<DeviceNotice>()];

    public void Post(Hearing hearing) => all.Enqueue(hearing);

    public void Post(PromptReceipt receipt) => all.Enqueue(receipt);

    public void Post(DeviceNotice notice) => all.Enqueue(notice);

    public async Task<IReadOnlyList<T>> Wait<T>(int count, TimeSpan? patience = null)
    {
        using var timeout = new CancellationTokenSource(patience ?? TimeSpan.FromSeconds(10));
        while (all.OfType<T>().Count() < count)
        {
            Assert.False(timeout.IsCancellationRequested, $"Only {all.OfType<T>().Count()} of {count} {typeof(T).Name} came: {string.Join("; ", all)}");
            await Task.Delay(5);
        }

        return [.. all.OfType<T>()];
    }
}
