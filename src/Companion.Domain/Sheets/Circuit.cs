namespace Companion.Domain.Sheets;

/// <summary>What stays charged, armed or awake together.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Spoken name: "front link", "restraint system".</param>
/// <param name="Microfarads">
/// What it holds its charge in, in whole microfarads, where the maker's document says so; null where it does not. Only figures are told from it.
/// </param>
public sealed record Circuit(CircuitId Id, string Name, int? Microfarads = null);
