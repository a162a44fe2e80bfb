using System.Collections.Immutable;
using Companion.Domain.Electrical;
using Companion.Domain.Time;

namespace Companion.Domain.Isolation;

/// <summary>A dead test in progress at one test place: prove tester, test every pair, prove tester.</summary>
/// <param name="Place">The test place.</param>
/// <param name="Tester">The one tester of this test.</param>
/// <param name="StartedBoot">CLOCK_BOOTTIME of the first proving; the claim must come within the place's window.</param>
public sealed record DeadTest(TestPlaceId Place, KitId Tester, Ticks StartedBoot)
{
    /// <summary>Kinds on which the tester was proved before the readings.</summary>
    public ImmutableHashSet<VoltageKind> Before { get; init; } = [];

    /// <summary>The confirmed readings, by pair, with their sequences.</summary>
    public ImmutableDictionary<PairId, TakenReading> Readings { get; init; } = ImmutableDictionary<PairId, TakenReading>.Empty;

    /// <summary>Kinds on which the tester was proved again after the readings.</summary>
    public ImmutableHashSet<VoltageKind> After { get; init; } = [];

    /// <summary>True once the technician confirmed bare metal under both probes although every reading was zero.</summary>
    public bool ContactConfirmed { get; init; }
}

/// <summary>A confirmed reading and where it stands in the journal.</summary>
/// <param name="Reading">The reading.</param>
/// <param name="Sequence">Its entry.</param>
public sealed record TakenReading(Reading Reading, long Sequence);
