using Companion.Engine.Ports;

namespace Companion.Voice.Ear;

/// <summary>Stands in for the ear when there is no model: hears nothing. Buttons and screen go on.</summary>
public sealed class DeafEar : IEar
{
    /// <summary>Tells the engine why.</summary>
    public DeafEar(string reason, IInbox inbox)
    {
        ArgumentNullException.ThrowIfNull(inbox);
        inbox.Post(new DeviceNotice("ear", false, reason));
    }

    /// <inheritdoc/>
    public void Listen(ListeningFor phrases)
    {
    }
}
