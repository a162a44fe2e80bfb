using System.Net;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Reviewing;

/// <summary>Comments on recorded jobs, by their forms and in the chain.</summary>
public sealed class CommentTests
{
    private const string Job = "job-7";

    [Fact]
    public async Task A_comment_is_recorded_shown_encoded_and_countersigned_by_another_person_only()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var page = await RecordAsync(rig);
        using var lead = await Visitor.SignedInAsync(rig);
        using var answer = await lead.PostAsync(page, page, ("sequence", "12"), ("text", "<b>The wind was loud</b>"), ("words", "own"));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var shown = await lead.ReadAsync(page);
        Assert.Contains("&lt;b&gt;The wind was loud", shown, StringComparison.Ordinal);
        Assert.Contains("Entry 12", shown, StringComparison.Ordinal);
        Assert.DoesNotContain("Countersign</button>", shown, StringComparison.Ordinal);

        using var own = await lead.PostAsync(page, $"{page}/countersign", ("comment", "1"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, own.StatusCode);
        using var other = await Visitor.SignedInAsync(rig, "Petra Ash");
        using var signed = await other.PostAsync(page, $"{page}/countersign", ("comment", "1"));
        Assert.Equal(HttpStatusCode.Redirect, signed.StatusCode);
        Assert.Contains("Countersigned</strong> by Petra Ash", await lead.ReadAsync(page), StringComparison.Ordinal);
        using var twice = await other.PostAsync(page, $"{page}/countersign", ("comment", "1"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, twice.StatusCode);
        CheckRows(rig);
    }

    [Fact]
    public async Task The_technicians_words_may_be_countersigned_by_who_wrote_them_down()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var page = await RecordAsync(rig);
        using var lead = await Visitor.SignedInAsync(rig);
        (await lead.PostAsync(page, page, ("sequence", "0"), ("text", "I had to wait for the fire service."), ("words", "technician"))).Dispose();
        using var signed = await lead.PostAsync(page, $"{page}/countersign", ("comment", "1"));
        Assert.Equal(HttpStatusCode.Redirect, signed.StatusCode);
    }

    [Fact]
    public async Task Nobody_else_comments_and_nothing_without_the_token_or_text_is_taken()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var page = await RecordAsync(rig);
        using var technician = await Visitor.SignedInAsync(rig, "Maren Oake");
        using var refused = await technician.GetAsync(page);
        Assert.NotEqual(HttpStatusCode.OK, refused.StatusCode);
        using var lead = await Visitor.SignedInAsync(rig);
        using var forged = await lead.PostWithoutTokenAsync(page, ("sequence", "0"), ("text", "forged"));
        Assert.Equal(HttpStatusCode.BadRequest, forged.StatusCode);
        using var empty = await lead.PostAsync(page, page, ("sequence", "0"), ("text", "  "), ("words", "own"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, empty.StatusCode);
        using var lasting = await lead.PostAsync(page, page, ("sequence", "0"), ("text", new string('x', 2001)), ("words", "own"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, lasting.StatusCode);
        Assert.Empty(rig.App.Journal.Read("review"));
    }

    [Theory]
    [InlineData("13", "has no entry 13; its last is 12")]
    [InlineData("-1", "has no entry -1; its last is 12")]
    [InlineData("9223372036854775807", "has no entry 9223372036854775807")]
    public async Task A_comment_on_an_entry_that_the_record_does_not_have_is_refused_with_the_last_that_it_has(string sequence, string reason)
    {
        await using var rig = await WatchroomRig.StartAsync();
        var page = await RecordAsync(rig);
        using var lead = await Visitor.SignedInAsync(rig);

        using var refused = await lead.PostAsync(page, page, ("sequence", sequence), ("text", "about nothing"), ("words", "own"));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Contains(reason, await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Empty(rig.App.Journal.Read("review"));
    }

    [Theory]
    [InlineData("/jobs/nobody/job-7/comments")]
    [InlineData("/jobs/{device}/job-8/comments")]
    [InlineData("/jobs/{device}/tablet/comments")]
    public async Task A_comment_on_a_job_that_was_never_received_is_refused(string page)
    {
        await using var rig = await WatchroomRig.StartAsync();
        var device = (await RecordAsync(rig)).Split('/')[2];
        using var lead = await Visitor.SignedInAsync(rig);
        page = page.Replace("{device}", device, StringComparison.Ordinal);

        using var refused = await lead.PostAsync(page, page, ("sequence", "0"), ("text", "about nothing"), ("words", "own"));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Empty(rig.App.Journal.Read("review"));
    }

    // The parts that a page asks for could be fetched without the page, and nobody was written down.
    [Theory]
    [InlineData("/line", 1)]
    [InlineData("/at?ms=0", 1)]
    [InlineData("/at/2", 1)]
    [InlineData("/said/2.wav", 1)]
    [InlineData("/comments", 3)]
    public async Task Who_looks_at_a_part_of_a_job_is_written_down_once(string part, int written)
    {
        await using var rig = await WatchroomRig.StartAsync();
        var address = await RecordAsync(rig);
        using var lead = await Visitor.SignedInAsync(rig);
        for (var n = 0; n < 3; n++)
        {
            (await lead.GetAsync(address.Replace("/comments", part, StringComparison.Ordinal))).Dispose();
        }

        var looked = rig.App.Journal.Read("audit").Where(entry => entry.Type == "job.looked").ToList();
        Assert.Equal(written, looked.Count);
        Assert.All(looked, entry => Assert.Equal("Runa Holt", entry.Sealed["person"].Text));
    }

    [Fact]
    public async Task The_parts_of_a_page_that_was_opened_are_not_written_down_again()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var record = (await RecordAsync(rig)).Replace("/comments", string.Empty, StringComparison.Ordinal);
        using var lead = await Visitor.SignedInAsync(rig);
        using var other = await Visitor.SignedInAsync(rig, "Petra Ash");
        foreach (var part in new[] { string.Empty, "/line", "/at/1", "/at/2" })
        {
            (await lead.GetAsync(record + part)).Dispose();
        }

        (await other.GetAsync(record + "/line")).Dispose();
        Assert.Equal(["Runa Holt", "Petra Ash"], rig.App.Journal.Read("audit").Where(entry => entry.Type == "job.looked").Select(entry => entry.Sealed["person"].Text));
    }

    /// <summary>Twelve entries of a job arrive; the address of the page of its comments.</summary>
    private static async Task<string> RecordAsync(WatchroomRig rig)
    {
        using var tablet = await rig.PairAsync();
        using var answer = await tablet.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(await Records.OfJobAsync(tablet.Tablet, Job, 12)));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return $"/jobs/{tablet.Device}/{Job}/comments";
    }

    private static void CheckRows(WatchroomRig rig)
    {
        var entries = rig.App.Journal.Read("review");
        Assert.Equal(["review.commented", "review.countersigned"], entries.Select(entry => entry.Type));
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "journal-entry.schema.json")));
        foreach (var entry in entries)
        {
            var row = document.RootElement.GetProperty("$defs").GetProperty(entry.Type);
            using var data = JsonDocument.Parse(entry.Data);
            var members = data.RootElement.EnumerateObject().Select(member => member.Name).ToHashSet();
            Assert.Subset(row.GetProperty("properties").EnumerateObject().Select(member => member.Name).ToHashSet(), members);
            Assert.Superset(row.GetProperty("required").EnumerateArray().Select(name => name.GetString()!).ToHashSet(), members);
            Assert.DoesNotContain("wind", entry.Data, StringComparison.Ordinal);
        }
    }
}
