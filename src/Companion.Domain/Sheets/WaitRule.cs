namespace Companion.Domain.Sheets;

/// <summary>The countdown of one circuit. It starts only when the last point feeding the circuit, in the way that is followed, is open.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Spoken name of what is waited for: "front link".</param>
/// <param name="Circuit">The circuit.</param>
/// <param name="Seconds">The maker's time in whole seconds.</param>
public sealed record WaitRule(WaitId Id, string Name, CircuitId Circuit, int Seconds);
