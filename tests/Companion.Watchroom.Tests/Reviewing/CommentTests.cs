using System.Net;
using System.Text.Json;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Reviewing;

/// <summary>Comments on recorded jobs, by their forms and in the chain.</summary>
public sealed class CommentTests
{
    private const string Page = "/jobs/van-1/job-7/comments";

    [Fact]
    public async Task A_comment_is_recorded_shown_encoded_and_countersigned_by_another_person_only()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var lead = await Visitor.SignedInAsync(rig);
        using var answer = await lead.PostAsync(Page, Page, ("sequence", "12"), ("text", "<b>The wind was loud</b>"), ("words", "own"));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var shown = await lead.ReadAsync(Page);
        Assert.Contains("&lt;b&gt;The wind was loud", shown, StringComparison.Ordinal);
        Assert.Contains("Entry 12", shown, StringComparison.Ordinal);
        Assert.DoesNotContain("Countersign</button>", shown, StringComparison.Ordinal);

        using var own = await lead.PostAsync(Page, $"{Page}/countersign", ("comment", "1"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, own.StatusCode);
        using var other = await Visitor.SignedInAsync(rig, "Petra Ash");
        using var signed = await other.PostAsync(Page, $"{Page}/countersign", ("comment", "1"));
        Assert.Equal(HttpStatusCode.Redirect, signed.StatusCode);
        Assert.Contains("Countersigned</strong> by Petra Ash", await lead.ReadAsync(Page), StringComparison.Ordinal);
        using var twice = await other.PostAsync(Page, $"{Page}/countersign", ("comment", "1"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, twice.StatusCode);
        CheckRows(rig);
    }

    [Fact]
    public async Task The_technicians_words_may_be_countersigned_by_who_wrote_them_down()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var lead = await Visitor.SignedInAsync(rig);
        (await lead.PostAsync(Page, Page, ("sequence", "0"), ("text", "I had to wait for the fire service."), ("words", "technician"))).Dispose();
        using var signed = await lead.PostAsync(Page, $"{Page}/countersign", ("comment", "1"));
        Assert.Equal(HttpStatusCode.Redirect, signed.StatusCode);
    }

    [Fact]
    public async Task Nobody_else_comments_and_nothing_without_the_token_or_text_is_taken()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var technician = await Visitor.SignedInAsync(rig, "Maren Oake");
        using var refused = await technician.GetAsync(Page);
        Assert.NotEqual(HttpStatusCode.OK, refused.StatusCode);
        using var lead = await Visitor.SignedInAsync(rig);
        using var forged = await lead.PostWithoutTokenAsync(Page, ("sequence", "0"), ("text", "forged"));
        Assert.Equal(HttpStatusCode.BadRequest, forged.StatusCode);
        using var empty = await lead.PostAsync(Page, Page, ("sequence", "0"), ("text", "  "), ("words", "own"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, empty.StatusCode);
        using var lasting = await lead.PostAsync(Page, Page, ("sequence", "0"), ("text", new string('x', 2001)), ("words", "own"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, lasting.StatusCode);
        Assert.Empty(rig.App.Journal.Read("review"));
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
