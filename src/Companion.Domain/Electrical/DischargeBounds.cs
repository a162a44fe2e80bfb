using Companion.Domain.Time;

namespace Companion.Domain.Electrical;

/// <summary>What watching readings are judged by.</summary>
/// <param name="Limit">The test place's limit for the kind that is measured.</param>
/// <param name="Floor">The sheet's floor: a smaller change is no change.</param>
/// <param name="Left">From the last reading to the end of the longest wait of the place; nothing when all are over.</param>
/// <param name="Kind">DC or AC: only DC follows the law of discharge.</param>
/// <param name="Microfarads">The capacitance that the sheet names; null when it names none.</param>
public sealed record DischargeBounds(Volts Limit, Volts Floor, Ticks Left, VoltageKind Kind, int? Microfarads);
