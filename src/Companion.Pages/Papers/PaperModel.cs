using Companion.Papers.Coding;
using Companion.Papers.Words;

namespace Companion.Pages.Papers;

/// <summary>A paper as a page.</summary>
/// <param name="Paper">What it says.</param>
/// <param name="Code">Its code; null when nobody could sign.</param>
/// <param name="Record">The address of its record.</param>
public sealed record PaperModel(Paper Paper, PaperCode? Code, string Record);
