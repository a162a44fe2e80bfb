namespace Companion.Watchroom.Watching;

/// <summary>What the watch room journals of its own watching; all it knows is a fold over these, but for the latest beats (I13).</summary>
/// <param name="At">When, by the watch room's clock.</param>
internal abstract record WatchEvent(DateTimeOffset At)
{
    /// <summary>A watch begins, or goes on with a new check-in after it had ended.</summary>
    public sealed record Opened(DateTimeOffset At, WatchId Watch, string? Technician, string? Place, string? Phase) : WatchEvent(At);

    /// <summary>A person's check-in was received. Its deadlines are computed once, here.</summary>
    public sealed record CheckedIn(
        DateTimeOffset At, WatchId Watch, long Sequence, long AgeMilliseconds, DateTimeOffset CheckedInAt, DateTimeOffset Due,
        DateTimeOffset OverdueFrom, long Epoch) : WatchEvent(At);

    /// <summary>The interval or margin became shorter without a new check-in.</summary>
    public sealed record Shortened(DateTimeOffset At, WatchId Watch, DateTimeOffset Due, DateTimeOffset OverdueFrom) : WatchEvent(At);

    /// <summary>An alert was raised.</summary>
    public sealed record Alerted(DateTimeOffset At, WatchId Watch, AlertCause Cause, Alert Alert) : WatchEvent(At);

    /// <summary>A call of the tablet was heard for the first time, and belongs to an alert.</summary>
    public sealed record Called(DateTimeOffset At, WatchId Watch, string Call, string Alert) : WatchEvent(At);

    /// <summary>A person answers for an alert.</summary>
    public sealed record Answered(DateTimeOffset At, string Alert, string Person, string Note) : WatchEvent(At);

    /// <summary>A watch ended: the tablet said so for long enough (<paramref name="Person"/> is null), or a person did.</summary>
    public sealed record Ended(DateTimeOffset At, WatchId Watch, string? Person, string Reason) : WatchEvent(At);

    /// <summary>
    /// The watch room had been down or had stalled; no deadline is held against anybody before <paramref name="GraceUntil"/>. With
    /// <paramref name="SetBack"/> its clock does not say for how long.
    /// </summary>
    public sealed record Blinded(DateTimeOffset At, DateTimeOffset From, DateTimeOffset GraceUntil, bool SetBack) : WatchEvent(At);
}

/// <summary>What an alert came from.</summary>
internal enum AlertCause
{
    /// <summary>A check-in that did not come.</summary>
    CheckIn,

    /// <summary>Beats that did not come.</summary>
    Silence,

    /// <summary>A call of the tablet.</summary>
    Call,
}
