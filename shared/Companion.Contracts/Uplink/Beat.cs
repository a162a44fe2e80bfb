namespace Companion.Contracts.Uplink;

/// <summary>
/// What a tablet says of itself every few seconds, on its own path beside the journal's: always the newest, never queued. That it came is the
/// sign of life of the link; only <paramref name="CheckIn"/> says anything of the person.
/// </summary>
/// <param name="Job">The open job; null when none is open.</param>
/// <param name="Technician">The technician's name, or crew number where the name was erased; null when no job is open.</param>
/// <param name="Phase">What goes on, as <see cref="CheckInStatement.Phase"/> names it; null when no job is open.</param>
/// <param name="Place">The typed road and marker; null when none was typed.</param>
/// <param name="Where">Where the tablet is by its own finding; null when unknown.</param>
/// <param name="CheckIn">The last check-in and when the next is due; null when nobody is watched.</param>
/// <param name="Waits">The countdowns that run.</param>
/// <param name="Alerts">The tablet's own calls that have not been taken yet.</param>
/// <param name="Recording">False while the tablet cannot keep its record.</param>
/// <param name="Rehearsal">True in a rehearsal store: never reaches real alerts.</param>
public sealed record Beat(
    string? Job,
    string? Technician,
    string? Phase,
    string? Place,
    Whereabouts? Where,
    CheckInStatement? CheckIn,
    IReadOnlyList<RunningWait> Waits,
    IReadOnlyList<Call> Alerts,
    bool Recording,
    bool Rehearsal);

/// <summary>A person's last check-in as the tablet knows it.</summary>
/// <param name="Sequence">The sequence of its entry in the job's chain (the opening of the job counts as the first). Rises with each check-in.</param>
/// <param name="AgeMilliseconds">How long ago it was when this was sent, by CLOCK_BOOTTIME.</param>
/// <param name="IntervalSeconds">From one check-in to the next falling due.</param>
/// <param name="MarginSeconds">From due to the alert.</param>
/// <param name="Phase">The phase that the interval belongs to: travelling, triage, exposed, working or watching.</param>
public sealed record CheckInStatement(long Sequence, long AgeMilliseconds, int IntervalSeconds, int MarginSeconds, string Phase);

/// <summary>A countdown that runs on the tablet.</summary>
/// <param name="Name">Its name on the sheet.</param>
/// <param name="SecondsLeft">Whole seconds left, rounded up.</param>
public sealed record RunningWait(string Name, long SecondsLeft);

/// <summary>A call for help that came from the tablet.</summary>
/// <param name="Id">Its id, the same on every repetition: "job/sequence".</param>
/// <param name="Kind">What was called.</param>
/// <param name="AgeMilliseconds">How long ago, by CLOCK_BOOTTIME.</param>
public sealed record Call(string Id, CallKind Kind, long AgeMilliseconds);

/// <summary>What a tablet can call for.</summary>
public enum CallKind
{
    /// <summary>"Help me", "casualty" or "leave now".</summary>
    Help,

    /// <summary>The quiet word: the tablet shows nothing of it, and nobody may ring the technician about it.</summary>
    Quiet,

    /// <summary>The tablet's own deadline passed and nobody answered.</summary>
    Unanswered,

    /// <summary>A stop or a live warning was not answered at the tablet.</summary>
    Warning,
}

/// <summary>Where the tablet is, by its own finding.</summary>
/// <param name="Latitude">Degrees north, WGS 84, as text ("52.20510").</param>
/// <param name="Longitude">Degrees east, WGS 84, as text.</param>
/// <param name="AccuracyMetres">Radius that holds it with about 95 %.</param>
/// <param name="AgeMilliseconds">How old the finding is, by CLOCK_BOOTTIME.</param>
public sealed record Whereabouts(string Latitude, string Longitude, int AccuracyMetres, long AgeMilliseconds)
{
    /// <summary>A finding older than this is shown as old: who stands at a vehicle may have left by then.</summary>
    public const long OldMilliseconds = 10 * 60 * 1000;
}
