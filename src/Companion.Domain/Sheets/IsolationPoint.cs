using System.Collections.Immutable;

namespace Companion.Domain.Sheets;

/// <summary>One place where energy is opened.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Spoken name: "service plug".</param>
/// <param name="Kind">What it is, so that a disturbance knows which points it undoes.</param>
/// <param name="Circuits">The circuits it feeds; empty is read as "feeds everything".</param>
/// <param name="Lockable">True when a lock and a tag can be fitted to it, and therefore must be.</param>
public sealed record IsolationPoint(PointId Id, string Name, PointKind Kind, ImmutableArray<CircuitId> Circuits, bool Lockable)
{
    /// <summary>True when this point feeds the circuit.</summary>
    public bool Feeds(CircuitId circuit) => Circuits.IsDefaultOrEmpty || Circuits.Contains(circuit);
}

/// <summary>What an isolation point is.</summary>
public enum PointKind
{
    /// <summary>Key, start button or transponder.</summary>
    Key,

    /// <summary>12 V or 24 V supply battery.</summary>
    LowVolt,

    /// <summary>High-voltage service disconnect or plug.</summary>
    Plug,

    /// <summary>Fuse, cut loop or another means that stands in for the plug.</summary>
    Loop,

    /// <summary>Charge inlet with a cable.</summary>
    Inlet,

    /// <summary>Engine or generator that can charge the circuit.</summary>
    Engine,

    /// <summary>Any other source: external socket, solar panel, second vehicle.</summary>
    Other,
}
