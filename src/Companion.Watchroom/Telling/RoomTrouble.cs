using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Telling;

/// <summary>Something that is amiss with the watch room itself, as the board shows it.</summary>
/// <param name="Id">The same while it is the same trouble, whatever its words.</param>
/// <param name="Words">In plain words.</param>
/// <param name="Noted">Who has taken note of it; null while nobody has, and then every open page sounds.</param>
public sealed record RoomTrouble(string Id, string Words, Noted? Noted)
{
    /// <summary>The alert that goes round about it; null when nobody is rung.</summary>
    public Alert? Alert { get; init; }

    /// <summary>True when it is over already, and shows only until somebody has noted it.</summary>
    public bool IsPast { get; init; }

    /// <summary>True when it shows only because somebody is being told of an alert: who is not shown every alert must not learn of one by it.</summary>
    public bool OfTelling { get; init; }
}

/// <summary>Who took note of a trouble. It does not end it.</summary>
/// <param name="Person">Their name.</param>
/// <param name="At">When.</param>
public sealed record Noted(string Person, DateTimeOffset At);
