namespace Companion.Domain.Sheets;

/// <summary>The maker's document that a sheet was written from. The document wins wherever the two differ.</summary>
/// <param name="Document">Its title or number.</param>
/// <param name="Edition">Its edition or date.</param>
/// <param name="ReviewBy">The last day before the sheet must be compared with the maker's method again.</param>
public sealed record SheetSource(string Document, string Edition, DateOnly ReviewBy)
{
    /// <summary>The document itself: the plain name of a PDF file beside the sheet; null when none is kept there.</summary>
    public string? Attachment { get; init; }

    /// <summary>True when the sheet must be compared with the maker's method before it may be used again.</summary>
    public bool IsOverdue(DateOnly today) => today > ReviewBy;
}
