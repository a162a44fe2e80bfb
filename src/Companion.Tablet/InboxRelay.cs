using Companion.Engine.Ports;

namespace Companion.Tablet;

/// <summary>Lets ports be built before the engine that they report to. What comes before it is there is dropped: nothing is asked yet.</summary>
public sealed class InboxRelay : IInbox
{
    private volatile IInbox? _target;

    /// <summary>The engine.</summary>
    public IInbox? Target
    {
        get => _target;
        set => _target = value;
    }

    /// <inheritdoc/>
    public void Post(Hearing hearing) => _target?.Post(hearing);

    /// <inheritdoc/>
    public void Post(PromptReceipt receipt) => _target?.Post(receipt);

    /// <inheritdoc/>
    public void Post(DeviceNotice notice) => _target?.Post(notice);
}
