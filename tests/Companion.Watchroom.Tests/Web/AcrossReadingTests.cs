using System.Net;
using Companion.Pages.Across;
using Companion.Review;
using Companion.Review.Across;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.DependencyInjection;

namespace Companion.Watchroom.Tests.Web;

/// <summary>The page over many jobs while the records are still being read: here a record is read only when the test lets it.</summary>
public sealed class AcrossReadingTests
{
    [Fact]
    public async Task The_page_tells_how_far_the_reading_is_and_a_download_waits_for_all_of_it()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var receipt = await rig.Services.Receiver.TakeAsync(tablet.Device, tablet.Tablet, BenchRecord.Lines(await BenchRecord.EventfulAsync(), tablet.Tablet));
        Assert.Equal(ReceiptOutcome.Taken, receipt.Outcome);
        using var gate = new SemaphoreSlim(0);
        await using var app = await ServeAsync(new Gated(new ReceivedRecords(rig.Services.Devices, rig.Services.Receiver, checksEnds: false), gate));
        using var http = new HttpClient { BaseAddress = new Uri(app.Urls.Single()) };

        var page = WebUtility.HtmlDecode(await http.GetStringAsync("/jobs/across"));
        Assert.Contains("0 of 1 records are read", page, StringComparison.Ordinal);
        Assert.Contains("<progress max=\"1\" value=\"0\"", page, StringComparison.Ordinal);
        Assert.Equal("""{"read":0,"all":1,"unreadable":0}""", await http.GetStringAsync("/jobs/across/read"));

        var download = http.GetStringAsync("/jobs/across.csv");
        gate.Release();
        Assert.Contains(BenchRecord.Job, await download, StringComparison.Ordinal);
        Assert.DoesNotContain("<progress", await http.GetStringAsync("/jobs/across"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_record_that_cannot_be_read_is_named_on_the_page_and_refuses_a_download()
    {
        var broken = new Broken();
        await using var app = await ServeAsync(broken);
        using var http = new HttpClient { BaseAddress = new Uri(app.Urls.Single()) };
        var page = WebUtility.HtmlDecode(await http.GetStringAsync("/jobs/across"));
        Assert.Contains("One record could not be read: the figures and the search are without it.", page, StringComparison.Ordinal);
        Assert.Contains("<a href=\"/jobs/van-4/job-1\">van-4, job-1</a>: The disk fails.", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<progress", page, StringComparison.Ordinal);
        foreach (var file in new[] { "csv", "ndjson" })
        {
            using var refused = await http.GetAsync($"/jobs/across.{file}");
            Assert.Equal(HttpStatusCode.ServiceUnavailable, refused.StatusCode);
            Assert.Contains("van-4, job-1: The disk fails.", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }

        broken.Mended = true;
        Assert.DoesNotContain("could not be read", await http.GetStringAsync("/jobs/across"), StringComparison.Ordinal);
        Assert.StartsWith("device,", await http.GetStringAsync("/jobs/across.csv"), StringComparison.Ordinal);
    }

    private static async Task<WebApplication> ServeAsync(IRecordSource records)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Services.AddRazorComponents();
        var app = builder.Build();
        app.MapGroup("/jobs").MapAcross(new JobLibrary(records), _ => Task.CompletedTask);
        await app.StartAsync();
        return app;
    }

    private sealed class Broken : IRecordSource
    {
        public bool Mended { get; set; }

        public IReadOnlyList<RecordName> Names() => [new("van-4", "job-1")];

        public RecordedJob? Open(RecordName name) => Mended ? null : throw new IOException("The disk fails.");

        public string StampOf(RecordName name) => "1";
    }

    private sealed class Gated(IRecordSource inner, SemaphoreSlim gate) : IRecordSource
    {
        public IReadOnlyList<RecordName> Names() => inner.Names();

        public RecordedJob? Open(RecordName name)
        {
            gate.Wait();
            return inner.Open(name);
        }

        public string StampOf(RecordName name) => inner.StampOf(name);
    }
}
