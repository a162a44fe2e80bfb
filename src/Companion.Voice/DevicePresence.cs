using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Voice;

/// <summary>
/// What the engine has been told of one device: its loss at once, its return when it has been good for a moment. A device that comes and
/// goes (a loose plug, a weak radio link) counts as lost until it has been good for <see cref="SteadyAfter"/>, so that it is not told of
/// again and again. Not safe for many threads.
/// </summary>
public sealed class DevicePresence
{
    /// <summary>So long must a device be good that was lost again soon after its return.</summary>
    public static readonly Ticks SteadyAfter = Ticks.OfSeconds(5);

    /// <summary>So soon after its return is a loss a sign that it comes and goes.</summary>
    public static readonly Ticks SoonAfterReturn = Ticks.OfSeconds(10);

    private readonly string device;
    private readonly Ticks backAfter;
    private readonly IInbox inbox;
    private readonly IClock clock;
    private bool present = true;
    private bool comesAndGoes;
    private Moment? goodSince;
    private Moment? returned;

    /// <summary>A device that is believed present until it shows otherwise.</summary>
    /// <param name="device">Its name in notices.</param>
    /// <param name="backAfter">So long must it be good before its return is told.</param>
    /// <param name="inbox">Where notices go.</param>
    /// <param name="clock">Tells for how long it has been good.</param>
    public DevicePresence(string device, Ticks backAfter, IInbox inbox, IClock clock)
    {
        this.device = device;
        this.backAfter = backAfter;
        this.inbox = inbox;
        this.clock = clock;
    }

    /// <summary>It is not good. The detail says what happened and what to do.</summary>
    public void Bad(string detail)
    {
        goodSince = null;
        if (present)
        {
            present = false;
            comesAndGoes = returned is { } last && !HasPassed(SoonAfterReturn, last, clock.Now());
            inbox.Post(new DeviceNotice(device, false, comesAndGoes
                ? $"The {device} comes and goes. Check its plug, its battery and its distance; use the button and the screen meanwhile."
                : detail));
        }
    }

    /// <summary>It cannot be told yet whether it is good; being good counts anew from here.</summary>
    public void Unclear() => goodSince = null;

    /// <summary>It is good now.</summary>
    public void Good()
    {
        if (present)
        {
            return;
        }

        var now = clock.Now();
        goodSince ??= now;
        if (HasPassed(comesAndGoes ? SteadyAfter : backAfter, goodSince.Value, now))
        {
            present = true;
            returned = now;
            inbox.Post(new DeviceNotice(device, true, $"The {device} is back."));
        }
    }

    private static bool HasPassed(Ticks length, Moment since, Moment now) => now.BootId != since.BootId || now.Boot - since.Boot >= length;
}
