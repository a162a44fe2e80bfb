using System.Text;
using Companion.Papers.Words;

namespace Companion.Papers.Tests.Words;

/// <summary>A paper as plain text.</summary>
internal static class PaperPrint
{
    public static string Of(Paper paper)
    {
        var text = new StringBuilder().AppendLine($"{paper.Title} {paper.Job} as of {paper.AsOf:O} made {paper.Made:O}").AppendLine(paper.Standing);
        foreach (var section in paper.Sections)
        {
            text.AppendLine().AppendLine($"## {section.Heading} ({section.Emphasis})");
            foreach (var row in section.Rows)
            {
                text.AppendLine(row.Label is null ? row.Text : $"{row.Label} | {row.Text}");
            }
        }

        return text.AppendLine().AppendJoin(Environment.NewLine, paper.Cautions).AppendLine().ToString();
    }
}
