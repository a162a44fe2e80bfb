using Companion.Papers.Words;

namespace Companion.Pages.Papers;

/// <summary>A paper as a page.</summary>
/// <param name="Paper">What it says.</param>
/// <param name="Record">The address of its record.</param>
public sealed record PaperModel(Paper Paper, string Record);
