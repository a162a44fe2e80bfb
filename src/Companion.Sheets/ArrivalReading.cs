using Companion.Domain.Arrival;

namespace Companion.Sheets;

/// <summary>What reading an arrival list gave.</summary>
/// <param name="List">The list, or null when there was any problem.</param>
/// <param name="Problems">What is wrong, in the order of the file's lines.</param>
public sealed record ArrivalReading(ArrivalList? List, IReadOnlyList<SheetProblem> Problems);
