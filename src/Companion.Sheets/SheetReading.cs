using Companion.Domain.Sheets;

namespace Companion.Sheets;

/// <summary>What reading a sheet gave.</summary>
/// <param name="Sheet">The sheet, or null when there was any problem: a sheet is usable as a whole or not at all.</param>
/// <param name="Problems">What is wrong, in the order of the file's lines.</param>
public sealed record SheetReading(Sheet? Sheet, IReadOnlyList<SheetProblem> Problems)
{
    /// <summary>What is not wrong and must be known all the same, such as a review date that has passed.</summary>
    public IReadOnlyList<SheetProblem> Cautions { get; init; } = [];
}
