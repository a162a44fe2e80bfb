using Companion.Domain.Electrical;

namespace Companion.Domain.Isolation;

/// <summary>What a tester showed: a number, or "below N" where N is its lowest indication.</summary>
/// <param name="Volts">The number shown, or N.</param>
/// <param name="Below">True for "below N".</param>
/// <param name="Kind">DC or AC.</param>
public sealed record Reading(Volts Volts, bool Below, VoltageKind Kind)
{
    /// <summary>Exactly nothing: asks whether the probes touched bare metal.</summary>
    public bool IsZero => !Below && Volts.Millivolts == 0;
}
