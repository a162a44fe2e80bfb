using Companion.Uplink;

namespace Companion.Benchmarks.Watchroom;

/// <summary>A journal that nothing is sent of.</summary>
internal sealed class NoJournal : IOutboxSource
{
    public static readonly NoJournal Instance = new();

    public IReadOnlyList<string> Chains() => [];

    public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence) => [];
}
