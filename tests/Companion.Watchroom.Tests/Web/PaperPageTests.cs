using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using Companion.Papers.Reading;
using Companion.Watchroom.Tests.Checking;
using Companion.Watchroom.Tests.Support;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Companion.Watchroom.Tests.Web;

/// <summary>Papers of a received record: who may have them, how they look, and what a printer and a telephone make of them.</summary>
public sealed class PaperPageTests(BoardBrowser browser) : IClassFixture<BoardBrowser>, IAsyncLifetime
{
    private static readonly string[] Names = ["handover", "report", "label"];

    private static readonly AxeRunOptions Rules = new()
    {
        ResultTypes = [ResultType.Violations],
        RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
    };

    private WatchroomRig rig = null!;
    private PaperBench bench = null!;

    private string Record => $"/jobs/{bench.Paired.Device}/{PaperBench.Job}";

    public async Task InitializeAsync()
    {
        rig = await WatchroomRig.StartAsync();
        bench = await PaperBench.StartAsync(rig);
        await bench.SendAsync(bench.Last);
    }

    public async Task DisposeAsync()
    {
        bench.Dispose();
        await rig.DisposeAsync();
    }

    [Fact]
    public async Task A_team_lead_has_every_paper_as_page_and_as_PDF_and_it_is_written_down()
    {
        using var lead = await Visitor.SignedInAsync(rig);
        var record = await lead.ReadAsync(Record);
        foreach (var name in Names)
        {
            Assert.Contains($"href=\"{Record}/papers/{name}\"", record, StringComparison.Ordinal);
            Assert.Contains($"href=\"{Record}/papers/{name}.pdf\"", record, StringComparison.Ordinal);
            Assert.Contains("<svg", await lead.ReadAsync($"{Record}/papers/{name}"), StringComparison.Ordinal);
            Assert.Contains(rig.Audit(), line => line.StartsWith("job.looked", StringComparison.Ordinal) && line.Contains($"\"what\":\"{name}\"", StringComparison.Ordinal));
            using var pdf = await lead.GetAsync($"{Record}/papers/{name}.pdf");
            Assert.Equal(("application/pdf", $"job-1-{name}.pdf"), (pdf.Content.Headers.ContentType?.MediaType, pdf.Content.Headers.ContentDisposition?.FileName));
            Assert.StartsWith("%PDF-", await pdf.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Nobody_else_has_one()
    {
        using var technician = await Visitor.SignedInAsync(rig, "Maren Oake");
        using var stranger = new Visitor(rig);
        foreach (var path in Names.SelectMany(name => new[] { $"{Record}/papers/{name}", $"{Record}/papers/{name}.pdf" }))
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await technician.GetAsync(path)).StatusCode);
            Assert.Equal(HttpStatusCode.Redirect, (await stranger.GetAsync(path)).StatusCode);
        }

        using var lead = await Visitor.SignedInAsync(rig);
        Assert.Equal(HttpStatusCode.NotFound, (await lead.GetAsync($"/jobs/{bench.Paired.Device}/job-9/papers/label")).StatusCode);
    }

    [Theory]
    [InlineData(1280, 800)]
    [InlineData(390, 844)]
    public async Task Papers_and_check_page_are_read_by_everybody_at_every_size(int width, int height)
    {
        var page = await browser.SignInAsync(rig, width: width, height: height);
        foreach (var path in Names.Select(name => $"{Record}/papers/{name}").Append("/check"))
        {
            await page.GotoAsync(new Uri(rig.App.Address, path).ToString());
            await browser.KeepAsync(page, $"paper-{path.Split('/')[^1]}-{width}");
            Assert.Empty((await page.RunAxe(Rules)).Violations.SelectMany(violation => violation.Nodes.Select(node => $"{path} {violation.Id}: {node.Html}")));
            Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        }

        await page.FillAsync("textarea[name=text]", bench.CodeAt(bench.Last - 3).Text);
        await page.ClickAsync("form[action='/check/text'] button");
        await Assertions.Expect(page.Locator(".verdict")).ToContainTextAsync("The job went on after this paper was made.");
        await browser.KeepAsync(page, $"check-older-{width}");
        Assert.Empty((await page.RunAxe(Rules)).Violations.SelectMany(violation => violation.Nodes.Select(node => $"{violation.Id}: {node.Html}")));
    }

    // Chromium prints, Poppler looks at the leaf as a telephone would, and the watch room knows its own paper.
    [Theory]
    [InlineData("handover", 595, 842)]
    [InlineData("label", 283, 425)]
    public async Task The_code_of_a_printed_page_is_read_back(string name, int width, int height)
    {
        var page = await browser.SignInAsync(rig);
        await page.GotoAsync(new Uri(rig.App.Address, $"{Record}/papers/{name}").ToString());
        var pdf = await page.PdfAsync(new() { PreferCSSPageSize = true, PrintBackground = false });
        var file = Path.Combine(Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") ?? rig.Store, $"printed-{name}.pdf");
        await File.WriteAllBytesAsync(file, pdf);
        var info = Encoding.UTF8.GetString(await RunAsync("pdfinfo", file));
        var size = Regex.Match(info, @"Page size:\s+([\d.]+) x ([\d.]+) pts");
        Assert.InRange(double.Parse(size.Groups[1].Value, CultureInfo.InvariantCulture), width - 1, width + 1);
        Assert.InRange(double.Parse(size.Groups[2].Value, CultureInfo.InvariantCulture), height - 1, height + 1);
        Assert.True(name != "label" || info.Contains("Pages:           1\n", StringComparison.Ordinal), info);

        // The signature is another in every run, and so is the code: where none is seen, the telephone is held nearer.
        var reading = PaperPhoto.Read(await PhotoAsync(file, 200));
        reading = reading.Text is null ? PaperPhoto.Read(await PhotoAsync(file, 300)) : reading;
        Assert.True(reading.Text is not null, reading.Fault.ToString());
        using var answer = await bench.PostAsync("/check/text", ("text", reading.Text));
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Contains("The record that is held here says the same.", text, StringComparison.Ordinal);
        Assert.Contains("It was signed by this watch room.", text, StringComparison.Ordinal);
    }

    private static Task<byte[]> PhotoAsync(string file, int dots) => RunAsync("pdftoppm", "-r", $"{dots}", "-f", "1", "-l", "1", "-png", file);

    private static async Task<byte[]> RunAsync(string program, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true })!;
        using var output = new MemoryStream();
        await process.StandardOutput.BaseStream.CopyToAsync(output);
        await process.WaitForExitAsync();
        Assert.Equal(0, process.ExitCode);
        return output.ToArray();
    }
}
