using Companion.Domain.Time;
using Companion.Screens.Answering;

namespace Companion.Screens.Gestures;

/// <summary>
/// Tells a tap from a deliberate hold (I17). A touch counts only when it began with no other finger on the screen and after the question
/// had been shown for a moment; a second finger spoils it and everything else until all fingers are up. Not thread-safe.
/// </summary>
public sealed class HoldGesture
{
    /// <summary>A finger that is down sooner than this after the question appeared was meant for the one before.</summary>
    public static readonly Ticks Settle = Ticks.OfMilliseconds(300);

    /// <summary>A longer touch is not a finger: a sleeve, a tool or water lies on the screen.</summary>
    public static readonly Ticks Longest = Ticks.OfSeconds(10);

    private readonly HashSet<long> _down = [];
    private Started? _started;

    /// <summary>What is being pressed; null when nothing is, or when it no longer counts.</summary>
    public string? Target => _started?.Target;

    /// <summary>A finger, key or pen went down.</summary>
    /// <param name="pointer">Which one.</param>
    /// <param name="target">On what.</param>
    /// <param name="shown">The question that the screen showed there.</param>
    /// <param name="at">When.</param>
    public void Down(long pointer, string target, QuestionKey shown, Moment at)
    {
        var alone = _down.Count == 0;
        _down.Add(pointer);
        _started = alone && IsSettled(shown, at) ? new Started(pointer, target, shown, at) : null;
    }

    /// <summary>It came up. What it amounts to, or null when it does not count.</summary>
    /// <param name="pointer">Which one.</param>
    /// <param name="at">When.</param>
    /// <param name="measured">The length that the screen measured itself; the shorter of the two counts, so that no delay makes a hold.</param>
    public Press? Up(long pointer, Moment at, Ticks measured)
    {
        var started = _started;
        _down.Remove(pointer);
        if (started is null || started.Pointer != pointer)
        {
            return null;
        }

        _started = null;
        if (at.BootId != started.At.BootId)
        {
            return null;
        }

        var passed = at.Boot - started.At.Boot;
        var held = measured < passed ? measured : passed;
        return held < Ticks.Zero || passed > Longest ? null : new Press(started.Target, started.Shown, started.At, held);
    }

    /// <summary>The finger slid off, or the system took the touch away.</summary>
    public void Cancel(long pointer)
    {
        _down.Remove(pointer);
        if (_started?.Pointer == pointer)
        {
            _started = null;
        }
    }

    /// <summary>The window lost the fingers or the link was cut: whatever was begun is void.</summary>
    public void Reset()
    {
        _down.Clear();
        _started = null;
    }

    private static bool IsSettled(QuestionKey shown, Moment at) => shown == QuestionKey.None || at.Boot - shown.Since >= Settle;

    private sealed record Started(long Pointer, string Target, QuestionKey Shown, Moment At);
}
