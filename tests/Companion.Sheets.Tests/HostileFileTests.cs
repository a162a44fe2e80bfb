using System.Text;
using CsCheck;

namespace Companion.Sheets.Tests;

public sealed class HostileFileTests
{
    [Fact]
    public void An_alias_bomb_is_refused_at_its_first_anchor()
    {
        var bomb = new StringBuilder("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
        for (var level = 1; level < 12; level++)
        {
            bomb.Append($"a{level}: &a{level} [*a{level - 1}, *a{level - 1}, *a{level - 1}, *a{level - 1}, *a{level - 1}, *a{level - 1}, *a{level - 1}]\n");
        }

        Refused(bomb.ToString(), 1, "a0", "Write the value out");
    }

    [Theory]
    [InlineData("id: a\nname: *other\n", 2, "name", "Anchors (&) and aliases (*) are not taken.")]
    [InlineData("id: !!str a\n", 1, "id", "Tags (!) are not taken.")]
    [InlineData("id: a\n\nid: b\n", 3, "id", "The key 'id' stands here twice. Keep one of them.")]
    [InlineData("id: a\n---\nid: b\n", 2, "", "Keep one document in one file.")]
    [InlineData("? [a, b]\n: c\n", 1, "", "A key must be a plain word.")]
    [InlineData("- a\n- b\n", 1, "", "The file must be a list of keys with values")]
    [InlineData("", 1, "", "The file is empty.")]
    [InlineData("id: a\nname: [b\n", 3, "", "Check indents, colons, brackets and quotes near this line.")]
    [InlineData("id: a\n\tname: b\n", 2, "", "Check indents, colons, brackets and quotes near this line.")]
    public void What_yaml_allows_and_a_sheet_does_not_is_refused_with_its_line(string yaml, int line, string path, string mend) =>
        Refused(yaml, line, path, mend);

    [Fact]
    public void Deep_nesting_is_refused() => Refused("a: " + new string('[', 5_000), 1, null, "nested deeper than 12 levels");

    [Fact]
    public void A_file_that_is_too_long_is_refused() => Refused("# " + new string('x', 300_000), 1, "", "longer than 262144 characters");

    [Fact]
    public void A_file_with_too_many_values_is_refused() =>
        Refused("a: [" + string.Join(',', Enumerable.Repeat("1", 30_000)) + "]", 1, null, "more than 20000 values");

    [Fact]
    public void No_text_makes_the_reader_throw() =>
        Gen.Select(Gen.Int[0, 2000], Gen.String[Gen.Char[":-[]{}\n \"'&a*!#9x|>?%@\\,<\t\0"], 0, 6])
            .Sample((at, noise) =>
            {
                var good = Seeds.Text("hollin-drover");
                var reading = SheetReader.Read(good.Insert(Math.Min(at, good.Length), noise));
                return (reading.Sheet is null) == (reading.Problems.Count > 0) && reading.Problems.All(problem => problem.Line >= 1);
            }, iter: 1000);

    private static void Refused(string yaml, int line, string? path, string mend)
    {
        var reading = SheetReader.Read(yaml);
        Assert.Null(reading.Sheet);
        var problem = reading.Problems.Single();
        Assert.Equal(line, problem.Line);
        Assert.Contains(mend, problem.Message, StringComparison.Ordinal);
        if (path is not null)
        {
            Assert.Equal(path, problem.Path);
        }
    }
}
