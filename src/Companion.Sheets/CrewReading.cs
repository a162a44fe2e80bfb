namespace Companion.Sheets;

/// <summary>What reading the crew gave.</summary>
/// <param name="Crew">The crew, or null when there was any problem.</param>
/// <param name="Problems">What is wrong, in the order of the file's lines.</param>
public sealed record CrewReading(Crew? Crew, IReadOnlyList<SheetProblem> Problems);
