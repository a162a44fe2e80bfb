using Companion.Domain.Time;

namespace Companion.Screens.Showing;

/// <summary>One countdown as it is shown.</summary>
/// <param name="Name">What is waited for.</param>
/// <param name="Remaining">What is left, as minutes and seconds, rounded up.</param>
/// <param name="Total">The whole time, in the same form.</param>
/// <param name="State">Its state.</param>
/// <param name="Left">What is left, exactly.</param>
/// <param name="Whole">The whole time, exactly.</param>
public sealed record Countdown(string Name, string Remaining, string Total, CountdownState State, Ticks Left, Ticks Whole)
{
    /// <summary>The state in words; colour never says it alone.</summary>
    public string StateWords => State switch
    {
        CountdownState.Running => "running",
        CountdownState.Over => "over, not yet tested",
        CountdownState.Proved => "over, proved dead",
        CountdownState.CheckIn => "say I am all right before it ends",
        CountdownState.InDoubt => "in doubt, nothing counts yet",
        _ => "test again before it ends",
    };

    /// <summary>True when nothing runs any more.</summary>
    public bool IsOver => State is CountdownState.Over or CountdownState.Proved;

    /// <summary>A countdown from exact times.</summary>
    public static Countdown Of(string name, Ticks left, Ticks whole, CountdownState state) =>
        new(name, Clock(left), Clock(whole), state, left, whole);

    /// <summary>Minutes and seconds, rounded up: what is left is never shown too short.</summary>
    public static string Clock(Ticks time)
    {
        var seconds = time.SecondsRoundedUp;
        return $"{seconds / 60:00}:{seconds % 60:00}";
    }
}

/// <summary>States of a countdown.</summary>
public enum CountdownState
{
    /// <summary>A wait that runs.</summary>
    Running,

    /// <summary>A wait that is over; nothing is proved by that.</summary>
    Over,

    /// <summary>A wait that is over, and every test place that covers its circuit is proved dead.</summary>
    Proved,

    /// <summary>A wait during which the Companion was not watching.</summary>
    InDoubt,

    /// <summary>The time left to check in.</summary>
    CheckIn,

    /// <summary>A time within which something must be done: the dead test, the next test.</summary>
    Watch,
}
