using System.Collections.Immutable;
using Companion.Domain.Sheets;
using Companion.Engine;
using Companion.Engine.Ports;

namespace Companion.Screens.Showing;

/// <summary>Which sheet is read under a number, and what stands above it.</summary>
/// <param name="Sheet">The sheet; null when there is none with that number.</param>
/// <param name="IsOffered">True when it is the one that lies in the folder, so that the document there belongs to it.</param>
/// <param name="Marks">What must be known before reading on, a sentence each.</param>
public sealed record SheetReadingView(Sheet? Sheet, bool IsOffered, ImmutableArray<string> Marks)
{
    /// <summary>A job in progress is read with its own pinned sheet, whatever happened to the file.</summary>
    public static SheetReadingView Of(int? number, Snapshot snapshot, ISheetCatalogue sheets, DateOnly today)
    {
        var offered = number is { } wanted ? sheets.Find(wanted) : null;
        var pinned = snapshot.Job is { Ended: false, Sheet: { } own } && own.Number == number ? own : null;
        var changed = pinned is not null && offered?.Digest != snapshot.Job!.SheetDigest;
        var sheet = pinned ?? offered?.Sheet;
        return new(sheet, !changed, sheet is null ? [] : [.. MarksOf(sheet, pinned is not null, changed, today)]);
    }

    private static IEnumerable<string> MarksOf(Sheet sheet, bool pinned, bool changed, DateOnly today)
    {
        if (sheet.RehearsalOnly)
        {
            yield return "For rehearsals only.";
        }

        if (pinned)
        {
            yield return changed ? "The sheet of this job. The file was changed since, and its document is not shown." : "The sheet of this job.";
        }

        if (sheet.Source.IsOverdue(today))
        {
            yield return "Past its review date. Get the maker's present method.";
        }
    }
}
