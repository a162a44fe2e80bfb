namespace Companion.Domain.Events;

/// <summary>A lock and its tag were taken off.</summary>
/// <param name="Point">Where.</param>
/// <param name="Lock">The lock's number.</param>
/// <param name="Holder">Whose lock it was.</param>
/// <param name="Remover">Who took it off: the holder, or who answers for the employer's procedure.</param>
/// <param name="Procedure">True when it was taken off by the employer's procedure, in its holder's absence.</param>
public sealed record PointUnlocked(PointId Point, string Lock, string Holder, string Remover, bool Procedure) : JobEvent;

/// <summary>A point is closed again: its circuits are live.</summary>
public sealed record PointClosed(PointId Point) : JobEvent;

/// <summary>The tools were counted on their way to the vehicle or back from it.</summary>
public sealed record ToolsCounted(int Count, bool Back) : JobEvent;

/// <summary>Somebody came, went, or changed what they do here.</summary>
/// <param name="Person">Crew number as it was said.</param>
/// <param name="Change">What changed.</param>
public sealed record PersonChanged(string Person, PersonChange Change) : JobEvent;

/// <summary>What changed about a person.</summary>
public enum PersonChange
{
    /// <summary>Is there and watches.</summary>
    Arrived,

    /// <summary>Is gone.</summary>
    Left,

    /// <summary>Works on the vehicle too, under locks of their own.</summary>
    Joined,

    /// <summary>Is the technician from here on.</summary>
    TookOver,
}

/// <summary>A phase of the job began.</summary>
public sealed record PhaseEntered(JobPhase Which) : JobEvent;

/// <summary>Phases that change what counts.</summary>
public enum JobPhase
{
    /// <summary>Nobody is at the vehicle for a while.</summary>
    Break,

    /// <summary>The work is done; the vehicle is put back.</summary>
    PuttingBack,
}
