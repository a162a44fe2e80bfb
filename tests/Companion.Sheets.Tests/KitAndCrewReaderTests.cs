namespace Companion.Sheets.Tests;

public sealed class KitAndCrewReaderTests
{
    private const string Kit = "id: small\nname: small kit\nitems:\n  - { id: gloves, kind: gloves, name: gloves, class: \"0\" }\n  - { id: boots, kind: footwear, name: boots }\n";

    [Fact]
    public void A_small_kit_reads()
    {
        var kit = KitReader.Read(Kit).Kit!;
        Assert.Equal("0", kit.Find(new("gloves"))!.Class!.Name);
        Assert.Null(kit.Find(new("boots"))!.Class);
        Assert.Null(kit.Find(new("visor")));
    }

    [Theory]
    [InlineData("class: \"0\"", "class: 0", 4, "items[0].class", "Write a class in quotes")]
    [InlineData("class: \"0\"", "tested: \"2026-02-30\"", 4, "items[0].tested", "Write a day in quotes, year first")]
    [InlineData("kind: footwear", "kind: boots", 5, "items[1].kind", "Write one of gloves")]
    [InlineData("id: boots", "id: gloves", 5, "items[1].id", "There are two items with the id 'gloves'. Give one of them another id.")]
    public void A_slip_in_a_kit_is_reported_with_line_path_and_mend(string from, string to, int line, string path, string mend)
    {
        var reading = KitReader.Read(Kit.Replace(from, to, StringComparison.Ordinal));
        Assert.Null(reading.Kit);
        var problem = Assert.Single(reading.Problems);
        Assert.Equal((line, path), (problem.Line, problem.Path));
        Assert.Contains(mend, problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_id_stands_once_among_the_technicians()
    {
        var problem = Assert.Single(CrewReader.Read("technicians:\n  - { id: a, name: A }\n  - { id: a, name: B }\n").Problems);
        Assert.Equal("line 3, technicians[1].id: There are two people with the id 'a'. Give one of them another id.", problem.ToString());
    }

    [Fact]
    public void A_crew_without_technicians_is_refused() =>
        Assert.Equal("technicians", Assert.Single(CrewReader.Read("secondpersons:\n  - { id: a, name: A }\n").Problems).Path);
}
