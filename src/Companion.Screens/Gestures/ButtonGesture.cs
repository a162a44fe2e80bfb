using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Screens.Answering;

namespace Companion.Screens.Gestures;

/// <summary>
/// Tells tap, hold and double apart on the one physical button. A tap is told only after <see cref="Gap"/>, when no second one can follow
/// any more. Not thread-safe.
/// </summary>
public sealed class ButtonGesture
{
    /// <summary>A second press within this time makes a double.</summary>
    public static readonly Ticks Gap = Ticks.OfMilliseconds(400);

    private const long TheButton = 1;
    private readonly HoldGesture _press = new();
    private Press? _first;
    private Moment _firstUp;

    /// <summary>The button went down.</summary>
    public void Down(QuestionKey shown, Moment at) => _press.Down(TheButton, string.Empty, shown, at);

    /// <summary>The button came up.</summary>
    public ButtonSign? Up(Moment at, Ticks measured)
    {
        if (_press.Up(TheButton, at, measured) is not { } press)
        {
            return null;
        }

        var first = _first;
        _first = null;
        if (press.IsDeliberate)
        {
            // A tap just before a hold: two intentions, so neither counts.
            return first is null ? Sign(ButtonSignKind.Hold, press) : null;
        }

        if (first is not null)
        {
            return Sign(ButtonSignKind.Double, first);
        }

        _first = press;
        _firstUp = at;
        return null;
    }

    /// <summary>Time passes: a single tap becomes certain.</summary>
    public ButtonSign? Tick(Moment at)
    {
        if (_first is null || _press.Target is not null || at.Boot - _firstUp.Boot < Gap)
        {
            return null;
        }

        var first = _first;
        _first = null;
        return Sign(ButtonSignKind.Tap, first);
    }

    /// <summary>The link was cut: whatever was begun is void.</summary>
    public void Reset()
    {
        _first = null;
        _press.Reset();
    }

    private static ButtonSign Sign(ButtonSignKind kind, Press press) => new(kind, press.Shown, press.Began, press.Held);
}
