using Companion.Domain.Time;

namespace Companion.TestKit;

/// <summary>Clocks under a test's control: they move only when told to.</summary>
public sealed class DemoTime
{
    /// <summary>Where tests begin.</summary>
    public static readonly DateTimeOffset Start = new(2026, 11, 25, 22, 10, 0, TimeSpan.FromHours(1));

    private DateTimeOffset _wall = Start;
    private Ticks _boot = Ticks.OfSeconds(100);
    private Ticks _awake = Ticks.OfSeconds(100);
    private int _boots = 1;

    /// <summary>The moment now.</summary>
    public Moment Now => new(_wall, $"boot-{_boots}", _boot, _awake);

    /// <summary>Time passes while the process runs.</summary>
    public void Pass(Ticks span)
    {
        _boot += span;
        _awake += span;
        _wall = _wall.AddTicks(span.Nanoseconds / 100);
    }

    /// <summary>The tablet sleeps: only CLOCK_MONOTONIC stands still.</summary>
    public void Sleep(Ticks span)
    {
        _boot += span;
        _wall = _wall.AddTicks(span.Nanoseconds / 100);
    }

    /// <summary>Somebody sets the wall clock.</summary>
    public void StepWall(TimeSpan by) => _wall = _wall.Add(by);

    /// <summary>Summer time begins or ends: the same instant is written with another offset.</summary>
    public void ChangeOffset(TimeSpan offset) => _wall = _wall.ToOffset(offset);

    /// <summary>The operating system starts anew: the ticks begin again, the wall clock does not know.</summary>
    public void Reboot()
    {
        _boots++;
        _boot = Ticks.OfSeconds(5);
        _awake = Ticks.OfSeconds(5);
    }
}
