namespace Companion.Domain.Sheets;

/// <summary>The maker's document that a sheet was written from. The document wins wherever the two differ.</summary>
/// <param name="Document">Its title or number.</param>
/// <param name="Edition">Its edition or date.</param>
/// <param name="ReviewBy">The last day before the sheet must be compared with the maker's method again.</param>
public sealed record SheetSource(string Document, string Edition, DateOnly ReviewBy);
