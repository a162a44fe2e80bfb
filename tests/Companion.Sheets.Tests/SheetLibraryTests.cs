namespace Companion.Sheets.Tests;

public sealed class SheetLibraryTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("sheets").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void The_seeds_load_and_are_found_by_number()
    {
        var library = SheetLibrary.Load(Seeds.SheetFolder);
        Assert.Empty(library.Problems);
        Assert.Equal([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 51, 52, 53], library.Sheets.Select(sheet => sheet.Number));
        Assert.Equal("hollin-drover", library.Find(2)!.Id);
        Assert.Null(library.Find(99));
    }

    [Fact]
    public void A_broken_file_hinders_no_other()
    {
        Write("a.yaml", Seeds.Text("tarnbeck-pipit").Replace("number: 1", "number: 0", StringComparison.Ordinal));
        Write("b.yaml", Seeds.Text("hollin-drover"));
        var library = SheetLibrary.Load(folder);
        Assert.Equal([2], library.Sheets.Select(sheet => sheet.Number));
        Assert.Equal("number", Assert.Single(library.Problems["a.yaml"]).Path);
    }

    [Fact]
    public void Two_sheets_with_one_number_are_both_left_out()
    {
        Write("a.yaml", Seeds.Text("tarnbeck-pipit"));
        Write("b.yaml", Seeds.Text("hollin-drover").Replace("number: 2", "number: 1", StringComparison.Ordinal));
        var library = SheetLibrary.Load(folder);
        Assert.Empty(library.Sheets);
        Assert.Equal("line 3, number: The number 1 is also used by b.yaml. Give one of the two another number.", Assert.Single(library.Problems["a.yaml"]).ToString());
        Assert.Equal("line 3, number: The number 1 is also used by a.yaml. Give one of the two another number.", Assert.Single(library.Problems["b.yaml"]).ToString());
    }

    [Fact]
    public void A_folder_that_is_not_there_is_a_problem() =>
        Assert.Contains("no such folder", SheetLibrary.Load(Path.Combine(folder, "none")).Problems.Values.Single().Single().Message, StringComparison.Ordinal);

    private void Write(string name, string text) => File.WriteAllText(Path.Combine(folder, name), text);
}
