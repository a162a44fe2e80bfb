using System.Collections.Immutable;
using Companion.Domain.Isolation;

namespace Companion.Domain.Sheets;

/// <summary>What a disturbance undoes on this vehicle.</summary>
/// <param name="What">The disturbance.</param>
/// <param name="Circuits">The circuits whose waits and proofs it voids; empty is read as all.</param>
/// <param name="Points">The points that must be opened again; empty is read as every point feeding those circuits.</param>
public sealed record DisturbanceRule(Disturbance What, ImmutableArray<CircuitId> Circuits, ImmutableArray<PointId> Points);
