using Companion.Domain.Electrical;

namespace Companion.Domain.Kit;

/// <summary>What a known source gives in one kind, and what a good tester then shows.</summary>
/// <param name="Kind">DC or AC.</param>
/// <param name="ShowsFrom">The lowest indication of a good tester on this source.</param>
/// <param name="ShowsTo">The highest indication of a good tester on this source.</param>
/// <param name="CoversTo">The highest voltage up to which the operator takes this source as a proof.</param>
public sealed record ProvingRange(VoltageKind Kind, Volts ShowsFrom, Volts ShowsTo, Volts CoversTo)
{
    /// <summary>True when an indication, whichever way round the leads are, lies in the band.</summary>
    public bool Accepts(Volts indicated) => indicated.Magnitude >= ShowsFrom && indicated.Magnitude <= ShowsTo;
}
