using Companion.Engine.Ports;
using Companion.TestKit;

namespace Companion.Tablet.Tests.Support;

/// <summary>An ear that takes its phrases only while its valve is open.</summary>
internal sealed class HangingEar(Valve valve) : IEar
{
    /// <summary>What it hears with.</summary>
    public FakeEar Inner { get; } = new();

    /// <inheritdoc/>
    public void Listen(ListeningFor phrases)
    {
        valve.Pass();
        Inner.Listen(phrases);
    }
}
