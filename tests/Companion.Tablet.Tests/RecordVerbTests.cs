using System.Net;
using System.Text;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.Journal.Format;
using Companion.Journal.Linking;
using Companion.Journal.Proof;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;
using Companion.Tablet.Web;
using Companion.TestKit;

namespace Companion.Tablet.Tests;

/// <summary>An exported file, opened by the verb and asked for as a browser asks.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class RecordVerbTests : IDisposable
{
    private static readonly Guid Tablet = Guid.Parse("5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21");
    private readonly string _folder = Directory.CreateTempSubdirectory("record-verb").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task The_pages_of_a_file_show_the_job_its_texts_and_a_cut_end_at_the_top()
    {
        var lines = Job("job-1");
        var page = await PageAsync(lines + lines[..^1][..40], "/record/job-1");

        Assert.Contains("has no end: the file was cut off there", page, StringComparison.Ordinal);
        Assert.Contains("The job does not end in this file", page, StringComparison.Ordinal);
        Assert.Contains("so dark here", page, StringComparison.Ordinal);
        Assert.Contains("data-replay", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_jobs_in_one_file_are_listed()
    {
        var page = await PageAsync(Job("job-1") + Job("job-2"), "/record");
        Assert.Contains("/record/job-1", page, StringComparison.Ordinal);
        Assert.Contains("/record/job-2", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_journals_for_one_job_are_both_shown_and_told()
    {
        var page = await PageAsync(Job("job-1") + Job("job-1", "so bright here"), "/record/job-1");
        Assert.Contains("are there twice: two journals claim this job", page, StringComparison.Ordinal);
        Assert.Contains("so dark here", page, StringComparison.Ordinal);
        Assert.Contains("so bright here", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_the_file_holds_no_texts_the_page_has_none()
    {
        var without = string.Concat(Job("job-1").TrimEnd('\n').Split('\n').Select(line => Encoding.UTF8.GetString(ExportLine.Open(Encoding.UTF8.GetBytes(line)).Entry.Span) + "\n"));
        var records = RecordVerb.Records("f", RecordVerb.Read(Write(without)), null, TextWriter.Null);
        Assert.DoesNotContain(records.Open(new(string.Empty, "job-1"))!.Entries, entry => entry.Happened is SpeechHeard { Text.Text: not null });
    }

    [Theory]
    [InlineData("", "is empty")]
    [InlineData("name,volts\nfront,0\n", "is not an export of a Companion")]
    [InlineData("PK\u0003\u0004rest", "is a ZIP")]
    public void A_file_that_is_no_export_is_refused_in_plain_words(string text, string words) =>
        Assert.Contains(words, Assert.Throws<UsageException>(() => RecordVerb.Read(Write(text))).Message, StringComparison.Ordinal);

    [Fact]
    public void A_missing_file_and_a_folder_are_refused_in_plain_words()
    {
        Assert.Contains("There is no file", Assert.Throws<UsageException>(() => RecordVerb.Read(Path.Combine(_folder, "none"))).Message, StringComparison.Ordinal);
        Assert.Contains("is a folder", Assert.Throws<UsageException>(() => RecordVerb.Read(_folder)).Message, StringComparison.Ordinal);
    }

    private async Task<string> PageAsync(string file, string path)
    {
        var records = RecordVerb.Records("f", RecordVerb.Read(Write(file)), null, TextWriter.Null);
        await using var app = RecordWeb.Build(new TabletWebOptions { Token = "t" }, records);
        await app.StartAsync();
        var (root, token) = (TabletWeb.BeatAddress(app), "t");
        using var http = new HttpClient();
        Assert.Equal(HttpStatusCode.Forbidden, (await http.GetAsync(new Uri(root, path))).StatusCode);
        http.DefaultRequestHeaders.Add("X-Companion-Token", token);
        Assert.Contains("--page", await http.GetStringAsync(new Uri(root, "/palette.css")), StringComparison.Ordinal);
        return WebUtility.HtmlDecode(await http.GetStringAsync(new Uri(root, path)));
    }

    private string Write(string text)
    {
        var path = Path.Combine(_folder, "job.ndjson");
        File.WriteAllText(path, text);
        return path;
    }

    private static string Job(string chain, string heard = "so dark here")
    {
        var (text, previous) = (new StringBuilder(), ChainHash.None);
        JobEvent[] events = [new JobBench().Open().Log[0].Event, new QuestionAsked(NeedKind.OpenPoint, "front"), new SpeechHeard(new Personal(heard), null, false, "unsure", 300)];
        foreach (var (happened, index) in events.Select((happened, index) => (happened, index)))
        {
            var draft = EventCodec.Draft(chain, happened, new Moment(DemoTime.Start.AddSeconds(index), "boot-1", Ticks.OfSeconds(index), Ticks.Zero));
            var texts = draft.Personal.ToDictionary(each => each.Key, each => PersonalText.Seal(new byte[16], each.Value));
            var entry = EntryCodec.Encode(draft, new EntryPlace(Tablet, false, index + 1, previous), texts);
            previous = entry.Hash;
            text.Append(Encoding.UTF8.GetString(ExportLine.Of(entry).Span)).Append('\n');
        }

        return text.ToString();
    }
}
