namespace Companion.Engine.Ports;

/// <summary>Something noticed while opening a store, in words for the technician, with a detail for the next engineer.</summary>
/// <param name="Severe">True when entries are missing or altered; false for a trimmed unacknowledged write or a roll-forward.</param>
/// <param name="Message">What was found, what was kept and where, and what to do: plain words for the technician.</param>
/// <param name="Detail">What it was inside the files, for the next engineer; may be empty.</param>
public sealed record StoreFinding(bool Severe, string Message, string Detail = "");
