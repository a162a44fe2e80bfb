using Companion.Domain.Electrical;
using Companion.Domain.Time;

namespace Companion.Domain.Isolation;

/// <summary>A watching reading that still says something: taken after every wait of its place started, and nothing happened since.</summary>
/// <param name="Place">The test place.</param>
/// <param name="Pair">The pair.</param>
/// <param name="Volts">What was shown.</param>
/// <param name="Kind">DC or AC.</param>
/// <param name="Boot">CLOCK_BOOTTIME: the circuit discharges whether the waits count or not.</param>
/// <param name="Counted">Counted time, by which the waits end.</param>
/// <param name="Sequence">Its entry.</param>
public sealed record Watched(TestPlaceId Place, PairId Pair, Volts Volts, VoltageKind Kind, Ticks Boot, Ticks Counted, long Sequence)
{
    /// <summary>Readings that are kept, of all places together; the oldest goes first.</summary>
    public const int MostKept = 100;
}
