using System.Text;
using Companion.Domain.Sheets;

namespace Companion.Sheets;

/// <summary>Prints a sheet as plain text, for reading against the maker's document.</summary>
public static class SheetText
{
    /// <summary>What stands at the top of a sheet that no real job may use.</summary>
    public const string RehearsalsOnly = "FOR REHEARSALS ONLY";

    private const int NameWidth = 16;

    /// <summary>The sheet, one thing a line, lines ended by a line feed.</summary>
    public static string Show(Sheet sheet)
    {
        var text = new StringBuilder();
        foreach (var (index, chapter) in SheetChapters.Of(sheet).Index())
        {
            text.Append(index == 0 ? "" : "\n").Append(chapter.Title).Append('\n');
            if (index == 0 && sheet.RehearsalOnly)
            {
                text.Append(RehearsalsOnly).Append('\n');
            }

            foreach (var row in chapter.Rows)
            {
                // A step's number and kind are a column of their own, narrower than names.
                var name = char.IsAsciiDigit(row.Name.TrimStart().FirstOrDefault()) ? row.Name : row.Name.PadRight(NameWidth);
                text.Append("  ").Append(name).Append(' ').Append(row.Text).Append('\n');
            }
        }

        return text.ToString();
    }
}
