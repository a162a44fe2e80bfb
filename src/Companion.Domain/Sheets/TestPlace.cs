using System.Collections.Immutable;
using Companion.Domain.Electrical;

namespace Companion.Domain.Sheets;

/// <summary>Where dead is tested.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Spoken name.</param>
/// <param name="Circuits">The circuits it covers; empty is read as all.</param>
/// <param name="Points">The points whose opening it proves; empty is read as all of the way.</param>
/// <param name="Pairs">The pairs to test, in order.</param>
/// <param name="LimitDc">A DC reading above it is live. Never over 60 V.</param>
/// <param name="LimitAc">An AC reading above it is live. Never over 30 V.</param>
/// <param name="WindowSeconds">From the first proving of the tester to the claim.</param>
public sealed record TestPlace(
    TestPlaceId Id,
    string Name,
    ImmutableArray<CircuitId> Circuits,
    ImmutableArray<PointId> Points,
    ImmutableArray<ProbePair> Pairs,
    Volts LimitDc,
    Volts LimitAc,
    int WindowSeconds)
{
    /// <summary>True when this place covers the circuit.</summary>
    public bool Covers(CircuitId circuit) => Circuits.IsDefaultOrEmpty || Circuits.Contains(circuit);

    /// <summary>The limit for a kind.</summary>
    public Volts Limit(VoltageKind kind) => kind == VoltageKind.Dc ? LimitDc : LimitAc;
}

/// <summary>Two contacts that the probes go on.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Spoken name: "positive to negative".</param>
/// <param name="Kind">DC or AC.</param>
/// <param name="Role">What the pair is electrically, for the consistency check.</param>
public sealed record ProbePair(PairId Id, string Name, VoltageKind Kind, PairRole Role);

/// <summary>What a pair is electrically.</summary>
public enum PairRole
{
    /// <summary>Positive rail to negative rail.</summary>
    RailToRail,

    /// <summary>Positive rail to chassis.</summary>
    PositiveToChassis,

    /// <summary>Negative rail to chassis.</summary>
    NegativeToChassis,

    /// <summary>Any other pair; takes no part in the consistency check.</summary>
    Other,
}
