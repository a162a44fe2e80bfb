using Companion.Engine.Ports;

namespace Companion.Tablet;

/// <summary>
/// Lets ports be built before the engine that they report to. A device that is missing at the start reports it once and at once: such
/// notices wait for the engine. Nothing is heard or spoken before it is there.
/// </summary>
public sealed class InboxRelay : IInbox
{
    private readonly Lock _gate = new();
    private readonly Dictionary<string, DeviceNotice> _waiting = [];
    private IInbox? _target;

    /// <summary>Hands over to the engine, the waiting notices first.</summary>
    public void Attach(IInbox target)
    {
        lock (_gate)
        {
            _target = target;
            foreach (var notice in _waiting.Values)
            {
                target.Post(notice);
            }

            _waiting.Clear();
        }
    }

    /// <inheritdoc/>
    public void Post(Hearing hearing) => Target()?.Post(hearing);

    /// <inheritdoc/>
    public void Post(PromptReceipt receipt) => Target()?.Post(receipt);

    /// <inheritdoc/>
    public void Post(DeviceNotice notice)
    {
        lock (_gate)
        {
            if (_target is null)
            {
                _waiting[notice.Device] = notice;
                return;
            }
        }

        Target()?.Post(notice);
    }

    private IInbox? Target()
    {
        lock (_gate)
        {
            return _target;
        }
    }
}
