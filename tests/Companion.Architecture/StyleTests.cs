using System.Text.RegularExpressions;

namespace Companion.Architecture;

/// <summary>Habits of the house, kept by a test so that nobody has to.</summary>
public sealed partial class StyleTests
{
    private const int MostLines = 350;
    private const int MostPublicTypes = 8;

    /// <summary>Folders in which no floating point decides anything.</summary>
    private static readonly string[] Exact =
        ["src/Companion.Domain/Time", "src/Companion.Domain/Isolation", "src/Companion.Domain/Deciding", "src/Companion.Domain/Asking", "src/Companion.Domain/Evolving"];

    [Fact]
    public void Files_are_short()
    {
        var tooLong = Repository.Code().Where(file => Repository.Read(file).Split('\n').Length > MostLines);
        Assert.Empty(tooLong);
    }

    [Fact]
    public void Nothing_is_left_to_do()
    {
        var mark = "TO" + "DO";
        Assert.DoesNotContain(Repository.Code(), file => Repository.Read(file).Contains(mark, StringComparison.Ordinal));
    }

    // One type each, with the small ones beside it that nobody would look for elsewhere; a file of events is a table.
    [Fact]
    public void A_file_holds_one_public_type_with_small_companions()
    {
        foreach (var file in Repository.Files("src", ".cs").Where(file => !file.StartsWith("src/Companion.Domain/Events/", StringComparison.Ordinal)
            && file is not "src/Companion.Domain/Deciding/Command.cs" and not "src/Companion.Domain/Ids.cs"))
        {
            var types = PublicType().Matches(Repository.Read(file)).Count;
            Assert.True(types <= MostPublicTypes, $"{file} has {types} public types");
        }
    }

    [Fact]
    public void Every_public_type_says_what_it_is()
    {
        foreach (var file in Repository.Files("src", ".cs").Concat(Repository.Files("shared", ".cs")))
        {
            var lines = Repository.Read(file).Split('\n');
            for (var line = 0; line < lines.Length; line++)
            {
                if (PublicType().IsMatch(lines[line]))
                {
                    Assert.True(Documented(lines, line), $"{file}:{line + 1} has no summary");
                }
            }
        }
    }

    [Fact]
    public void Time_and_rules_know_no_floating_point()
    {
        foreach (var file in Exact.SelectMany(folder => Repository.Files(folder, ".cs")))
        {
            var found = FloatingPoint().Match(WithoutComments(Repository.Read(file)));
            Assert.False(found.Success, $"{file} uses {found.Value}");
        }
    }

    [Fact]
    public void Exact_folders_are_where_they_are_looked_for() => Assert.All(Exact, folder => Assert.NotEmpty(Repository.Files(folder, ".cs")));

    private static bool Documented(string[] lines, int line)
    {
        for (line--; line >= 0 && lines[line].TrimStart().StartsWith('['); line--)
        {
        }

        return line >= 0 && lines[line].TrimStart().StartsWith("///", StringComparison.Ordinal);
    }

    private static string WithoutComments(string code) => Comment().Replace(code, string.Empty);

    [GeneratedRegex(@"^\s*public (?:static |sealed |abstract |partial |readonly |unsafe )*(?:class|record|struct|interface|enum|record struct|delegate)\b", RegexOptions.Multiline)]
    private static partial Regex PublicType();

    [GeneratedRegex(@"\b(?:double|float|Double|Single|TotalSeconds|TotalMilliseconds)\b")]
    private static partial Regex FloatingPoint();

    [GeneratedRegex(@"//.*$", RegexOptions.Multiline)]
    private static partial Regex Comment();
}
