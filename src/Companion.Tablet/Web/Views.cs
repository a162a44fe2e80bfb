using Companion.Domain.Deciding;
using Companion.Engine;
using Companion.Engine.Ports;

namespace Companion.Tablet.Web;

/// <summary>
/// Knows which views are connected. Each loss is journalled; a job that no view shows for a while goes on by voice, and is told so
/// aloud. Callable from any thread.
/// </summary>
public sealed class Views(JobEngine engine, TabletWebOptions options, TimeProvider time)
{
    /// <summary>The name of the lost device in the record.</summary>
    public const string Screen = "screen";

    /// <summary>While no view shows an open job, a new one is asked for this often.</summary>
    public static readonly TimeSpan AskAgain = TimeSpan.FromSeconds(20);

    private readonly Lock _gate = new();
    private readonly HashSet<string> _connected = [];
    private long _none = time.GetTimestamp();
    private long? _asked;

    /// <summary>Raised on the ticker's thread when an open job has no view; handlers return at once.</summary>
    public event Action? NoneLeft;

    /// <summary>A view is connected, or connected again.</summary>
    public void Connected(string view)
    {
        bool missed;
        lock (_gate)
        {
            _connected.Add(view);
            missed = _asked is not null;
            _asked = null;
        }

        if (missed)
        {
            engine.Post(new DeviceNotice(Screen, true, "The screen is back."));
        }
    }

    /// <summary>A view's link is down.</summary>
    public void Gone(string view)
    {
        lock (_gate)
        {
            if (!_connected.Remove(view))
            {
                return;
            }

            _none = time.GetTimestamp();
        }

        engine.Post(new ViewGone(Screen));
    }

    /// <summary>Called every turn of the screens.</summary>
    public void Look()
    {
        if (engine.Snapshot.Job is not { Ended: false })
        {
            return;
        }

        bool first;
        lock (_gate)
        {
            if (_connected.Count > 0 || time.GetElapsedTime(_none) < options.ViewPatience
                || (_asked is { } asked && time.GetElapsedTime(asked) < AskAgain))
            {
                return;
            }

            first = _asked is null;
            _asked = time.GetTimestamp();
        }

        if (first)
        {
            engine.Post(new DeviceNotice(Screen, false, "No screen shows the job. Do not trust what a screen still shows. Go on by voice."));
        }

        NoneLeft?.Invoke();
    }
}
