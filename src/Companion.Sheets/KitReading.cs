using Companion.Domain.Kit;

namespace Companion.Sheets;

/// <summary>What reading a kit gave.</summary>
/// <param name="Kit">The kit, or null when there was any problem.</param>
/// <param name="Problems">What is wrong, in the order of the file's lines.</param>
public sealed record KitReading(KitList? Kit, IReadOnlyList<SheetProblem> Problems);
