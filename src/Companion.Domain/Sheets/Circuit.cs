namespace Companion.Domain.Sheets;

/// <summary>What stays charged, armed or awake together.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Spoken name: "front link", "restraint system".</param>
public sealed record Circuit(CircuitId Id, string Name);
