using Companion.Engine.Ports;
using Companion.Uplink;

namespace Companion.Watchroom.Tests.Support;

/// <summary>A tablet that only beats.</summary>
internal sealed class NoJournal : IOutboxSource
{
    public IReadOnlyList<string> Chains() => [];

    public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence) => [];
}
