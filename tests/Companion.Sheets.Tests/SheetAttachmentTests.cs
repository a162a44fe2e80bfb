namespace Companion.Sheets.Tests;

public sealed class SheetAttachmentTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("attached").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_document_beside_the_sheet_is_taken()
    {
        Write("manual.pdf", "%PDF-1.7\n");
        Assert.Null(SheetAttachment.Fault(folder, "manual.pdf"));
        Assert.NotNull(SheetReader.ReadFile(SheetWith("manual.pdf")).Sheet);
    }

    [Fact]
    public void A_document_that_is_not_there_is_reported_on_its_line_with_a_mend()
    {
        var problem = Assert.Single(SheetReader.ReadFile(SheetWith("manual.pdf")).Problems);
        Assert.Equal("line 11, source.attachment: There is no file 'manual.pdf' beside the sheet. Put it there, or take the attachment out.", problem.ToString());
    }

    [Theory]
    [InlineData("")]
    [InlineData("%PDF")]
    [InlineData("<html>%PDF-1.7")]
    public void What_does_not_begin_as_a_PDF_is_none(string text)
    {
        Write("manual.pdf", text);
        Assert.Contains("it does not begin with %PDF-", SheetAttachment.Fault(folder, "manual.pdf"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(19_999_999, true)]
    [InlineData(20_000_000, false)]
    public void A_document_is_smaller_than_20_MB(long length, bool taken)
    {
        using (var file = File.Create(Path.Combine(folder, "manual.pdf")))
        {
            file.Write("%PDF-1.7\n"u8);
            file.SetLength(length);
        }

        Assert.Equal(taken, SheetAttachment.Fault(folder, "manual.pdf") is null);
    }

    [Theory]
    [InlineData("../secret.pdf")]
    [InlineData("/etc/passwd")]
    [InlineData("a/b.pdf")]
    [InlineData("a\\b.pdf")]
    [InlineData("..")]
    [InlineData(".hidden.pdf")]
    [InlineData("")]
    [InlineData("a\0.pdf")]
    public void A_name_that_could_leave_the_folder_is_refused_unread(string name) =>
        Assert.Contains("not a plain file name", SheetAttachment.Fault(folder, name), StringComparison.Ordinal);

    [Fact]
    public void A_link_to_a_file_elsewhere_is_no_document()
    {
        var elsewhere = Directory.CreateTempSubdirectory("elsewhere").FullName;
        File.WriteAllText(Path.Combine(elsewhere, "other.pdf"), "%PDF-1.7\n");
        File.CreateSymbolicLink(Path.Combine(folder, "manual.pdf"), Path.Combine(elsewhere, "other.pdf"));
        Assert.Contains("There is no file 'manual.pdf'", SheetAttachment.Fault(folder, "manual.pdf"), StringComparison.Ordinal);
        Directory.Delete(elsewhere, recursive: true);
    }

    private void Write(string name, string text) => File.WriteAllText(Path.Combine(folder, name), text);

    private string SheetWith(string attachment)
    {
        var path = Path.Combine(folder, "sheet.yaml");
        File.WriteAllText(path, Seeds.Text("tarnbeck-pipit").Replace(
            "reviewby: \"2027-08-31\"", $"reviewby: \"2027-08-31\"\n  attachment: {attachment}", StringComparison.Ordinal));
        return path;
    }
}
