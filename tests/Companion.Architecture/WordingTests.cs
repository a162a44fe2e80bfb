using System.Text.RegularExpressions;

namespace Companion.Architecture;

/// <summary>Words that the Companion must not say or show, and what must be shipped with what it shows.</summary>
public sealed partial class WordingTests
{
    // Nothing declares a vehicle safe: it refuses to record what has not been earned, and no more.
    [Fact]
    public void No_prompt_and_no_screen_says_that_word()
    {
        var spoken = new[] { "src/Companion.Domain", "src/Companion.Engine", "src/Companion.Screens", "src/Companion.Review", "src/Companion.Pages", "src/Companion.Tablet", "src/Companion.Watchroom" };
        foreach (var file in spoken.SelectMany(folder => Repository.Files(folder, ".cs", ".razor")))
        {
            var lines = Repository.Read(file).Split('\n').Where(line => !line.TrimStart().StartsWith("//", StringComparison.Ordinal) && !line.TrimStart().StartsWith("@*", StringComparison.Ordinal));
            foreach (var line in lines)
            {
                var texts = file.EndsWith(".razor", StringComparison.Ordinal) ? [line] : Literal().Matches(line).Select(match => match.Value);
                Assert.DoesNotContain(texts, text => Safe().IsMatch(text));
            }
        }
    }

    [Fact]
    public void No_sheet_says_that_word()
    {
        foreach (var file in Repository.Files("seeds", ".yaml", ".yml"))
        {
            var said = Repository.Read(file).Split('\n').Where(line => Spoken().IsMatch(line));
            Assert.DoesNotContain(said, line => Safe().IsMatch(line));
        }
    }

    // "Lock on", "lock off" and "correct" beside "correction" are heard wrongly.
    [Fact]
    public void Prompts_avoid_words_that_are_heard_wrongly()
    {
        foreach (var file in Repository.Files("src/Companion.Domain", ".cs").Where(file => !file.Contains("/Sheets/", StringComparison.Ordinal)))
        {
            foreach (Match literal in Literal().Matches(Repository.Read(file)))
            {
                Assert.False(HeardWrongly().IsMatch(literal.Value), $"{file}: {literal.Value}");
            }
        }
    }

    [Fact]
    public void Every_folder_of_assets_names_its_licence_and_source()
    {
        var folders = Repository.Files("assets", ".ttf", ".woff2", ".otf", ".svg", ".wav", ".onnx", ".bin", ".tsv", ".dict", ".txt", ".png")
            .Select(file => Path.GetDirectoryName(file)!.Replace('\\', '/')).Distinct();
        foreach (var folder in folders)
        {
            Assert.True(HasLicence(folder), $"{folder} has no LICENCE file in it or above it");
        }
    }

    private static bool HasLicence(string folder)
    {
        for (; folder.Length > 0; folder = Path.GetDirectoryName(folder)?.Replace('\\', '/') ?? string.Empty)
        {
            if (Directory.EnumerateFiles(Path.Combine(Repository.Root, folder)).Any(Names))
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>A licence file, or a read-me that names the licence.</summary>
    private static bool Names(string file) => Licence().IsMatch(Path.GetFileName(file))
        || (Path.GetFileName(file) == "README.md" && File.ReadAllText(file).Contains("licen", StringComparison.OrdinalIgnoreCase));

    [GeneratedRegex(@"\bsafe\b", RegexOptions.IgnoreCase)]
    private static partial Regex Safe();

    [GeneratedRegex("\"(?:[^\"\\\\\\r\\n]|\\\\.)*\"")]
    private static partial Regex Literal();

    [GeneratedRegex(@"\b(?:say|name|marking|stayslive):")]
    private static partial Regex Spoken();

    [GeneratedRegex(@"\block (?:on|off)\b|\bcorrect\b", RegexOptions.IgnoreCase)]
    private static partial Regex HeardWrongly();

    [GeneratedRegex(@"^(?:LICEN[CS]E|NOTICE|OFL|COPYING|SOURCES?)", RegexOptions.IgnoreCase)]
    private static partial Regex Licence();
}
