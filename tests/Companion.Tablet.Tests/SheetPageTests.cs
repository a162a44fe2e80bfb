using System.Net;
using Companion.Domain.Asking;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;

namespace Companion.Tablet.Tests;

/// <summary>The page that shows a sheet and its document, asked for as a browser asks.</summary>
public sealed class SheetPageTests : IAsyncLifetime
{
    private readonly HttpClient _http = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false });
    private readonly string _folder = Directory.CreateTempSubdirectory("documents").FullName;
    private TabletRig _rig = null!;

    public async Task InitializeAsync()
    {
        File.WriteAllText(Path.Combine(_folder, "van.pdf"), "%PDF-1.4 invented");
        File.WriteAllText(Path.Combine(_folder, "notes.txt"), "%PDF-1.4 not named by any sheet");
        _rig = await TabletRig.StartAsync(sheetFolder: Path.Combine(_folder));
        Attach("van.pdf");
    }

    public async Task DisposeAsync()
    {
        _http.Dispose();
        await _rig.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task The_page_holds_the_whole_sheet_in_words_and_its_document_outside_a_job()
    {
        var html = await TextAsync("/sheet/7");

        Assert.Contains("Test van", html, StringComparison.Ordinal);
        Assert.All(DemoSheets.Van().Steps, step => Assert.Contains(step.Say, html, StringComparison.Ordinal));
        Assert.Contains("800 V DC", html, StringComparison.Ordinal);
        Assert.Contains("by the front cut loop", html, StringComparison.Ordinal);
        Assert.Contains("src=\"sheet/7/document#", html, StringComparison.Ordinal);
        Assert.DoesNotContain("data-press", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task All_sheets_are_listed_and_lead_to_their_pages() => Assert.Contains("href=\"sheet/7\"", await TextAsync("/sheet"), StringComparison.Ordinal);

    [Fact]
    public async Task A_number_without_a_sheet_says_so() => Assert.Contains("There is no sheet with the number 8.", await TextAsync("/sheet/8"), StringComparison.Ordinal);

    [Fact]
    public async Task A_job_is_read_with_the_sheet_that_it_pinned()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.OpenPoint);
        _rig.Sheets.Replace(DemoSheets.Van() with { Edition = 9, Vehicle = "Another van" });

        var html = await TextAsync("/sheet/7");

        Assert.Contains("The sheet of this job. The file was changed since", html, StringComparison.Ordinal);
        Assert.DoesNotContain("Another van", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<iframe", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_document_is_served_as_a_PDF_that_only_own_pages_may_frame_and_that_loads_nothing()
    {
        var answer = await GetAsync("/sheet/7/document");

        Assert.Equal((HttpStatusCode.OK, "application/pdf"), (answer.StatusCode, answer.Content.Headers.ContentType!.ToString()));
        Assert.Equal("%PDF-1.4 invented", await answer.Content.ReadAsStringAsync());
        Assert.Equal("default-src 'none'; frame-ancestors 'self'", Assert.Single(answer.Headers.GetValues("Content-Security-Policy")));
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
    }

    [Theory]
    [InlineData("/sheet/8/document")]
    [InlineData("/sheet/van.pdf/document")]
    [InlineData("/sheet/..%2fnotes.txt/document")]
    [InlineData("/sheet/7/notes.txt")]
    [InlineData("/sheet/7/document/../notes.txt")]
    [InlineData("/van.pdf")]
    [InlineData("/notes.txt")]
    public async Task No_other_address_leads_to_a_file_of_the_folder(string path)
    {
        var answer = await GetAsync(path);
        Assert.DoesNotContain("%PDF", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    // A sheet from the record is not held to the schema: its attachment is checked again where it is served.
    [Theory]
    [InlineData("../secret.pdf")]
    [InlineData("..")]
    [InlineData("missing.pdf")]
    [InlineData("wrong.pdf")]
    public async Task A_document_that_leaves_the_folder_or_is_none_is_not_found(string attachment)
    {
        File.WriteAllText(Path.Combine(Path.GetDirectoryName(_folder)!, "secret.pdf"), "%PDF-1.4 secret");
        File.WriteAllText(Path.Combine(_folder, "wrong.pdf"), "<html>");
        Attach(attachment);

        Assert.Equal(HttpStatusCode.NotFound, (await GetAsync("/sheet/7/document")).StatusCode);
        Assert.DoesNotContain("<iframe", await TextAsync("/sheet/7"), StringComparison.Ordinal);
        File.Delete(Path.Combine(Path.GetDirectoryName(_folder)!, "secret.pdf"));
    }

    private void Attach(string name)
    {
        var van = DemoSheets.Van();
        _rig.Sheets.Replace(van with { Source = van.Source with { Attachment = name } });
    }

    private async Task<string> TextAsync(string path) => WebUtility.HtmlDecode(await (await GetAsync(path)).Content.ReadAsStringAsync());

    private Task<HttpResponseMessage> GetAsync(string path)
    {
        var request = new HttpRequestMessage(HttpMethod.Get, new Uri(new Uri($"http://127.0.0.1:{_rig.Port}/"), path));
        request.Headers.Add("X-Companion-Token", _rig.Token);
        return _http.SendAsync(request);
    }
}
