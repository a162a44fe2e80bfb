using Companion.Contracts.Uplink;
using Companion.Screens.Showing;

namespace Companion.Screens.Tests;

/// <summary>How the link to the watch room stands, in plain words.</summary>
public sealed class LinkLineTests
{
    private static readonly DateTimeOffset Now = new(2026, 11, 26, 19, 30, 0, TimeSpan.FromHours(1));

    private static string Waiting(LinkStanding standing)
    {
        var line = Assert.Single(LinkLine.Of(standing, Now));
        Assert.False(line.ToDo);
        return line.Text;
    }

    [Fact]
    public void Without_a_watch_room_there_is_nothing_to_say() => Assert.Empty(LinkLine.Of(null, Now));

    [Fact]
    public void Nothing_waiting_is_said_too() => Assert.Equal("The watch room holds every entry.", Waiting(new LinkStanding()));

    [Theory]
    [InlineData(1, 400, "1 entry, under 1 kB, waits to be sent, the oldest since 18:05.")]
    [InlineData(412, 180_400, "412 entries, about 180 kB, wait to be sent, the oldest since 18:05.")]
    [InlineData(2000, 999_499, "2000 entries, about 999 kB, wait to be sent, the oldest since 18:05.")]
    [InlineData(9000, 999_500, "9000 entries, about 1.0 MB, wait to be sent, the oldest since 18:05.")]
    public void What_waits_is_told_in_entries_bytes_and_since_when(long entries, long bytes, string words) =>
        Assert.Equal(words, Waiting(new LinkStanding { Waiting = entries, Bytes = bytes, Since = Now.AddMinutes(-85) }));

    [Fact]
    public void What_waits_since_another_day_names_the_day() => Assert.Contains(
        "since 25 Nov, 23:55.", Waiting(new LinkStanding { Waiting = 2, Since = new DateTimeOffset(2026, 11, 25, 23, 55, 0, TimeSpan.FromHours(1)) }), StringComparison.Ordinal);

    [Fact]
    public void Why_it_waits_is_told_without_calling_anybody()
    {
        var words = Waiting(new LinkStanding { Waiting = 2, Trouble = "The watch room is out of reach. Everything is kept here and sent later." });
        Assert.EndsWith("wait to be sent. The watch room is out of reach. Everything is kept here and sent later.", words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(59_999, "found just now.")]
    [InlineData(600_000, "found 10 min ago.")]
    [InlineData(660_000, "found 11 min ago, which is old.")]
    public void Who_shares_where_the_tablet_is_reads_so_with_its_accuracy_and_age(long age, string words)
    {
        var line = LinkLine.Of(new LinkStanding { SharesPosition = true, Where = new Whereabouts("52.20510", "-0.13640", 12, age) }, Now)[^1];
        Assert.StartsWith("Shared: in a job the watch room sees where the tablet is, within 12 m, ", line.Text, StringComparison.Ordinal);
        Assert.EndsWith(words, line.Text, StringComparison.Ordinal);
        Assert.False(line.ToDo);
    }

    [Fact]
    public void Without_a_finding_it_reads_that_nothing_is_seen() => Assert.Equal(
        "The watch room does not see where the tablet is.", LinkLine.Of(new LinkStanding { SharesPosition = true }, Now)[^1].Text);

    [Fact]
    public void A_refused_record_comes_first_with_its_reason_and_whom_to_call()
    {
        var standing = new LinkStanding
        {
            Waiting = 5,
            Trouble = "job-7: Entry 3 is held with other content.",
            Refused = [new RefusedRecord("job-7", "Entry 3 is held with other content."), new RefusedRecord("tablet", "It is damaged.")],
        };
        var lines = LinkLine.Of(standing, Now);
        Assert.Equal([true, true, false], lines.Select(line => line.ToDo));
        Assert.Equal("The watch room does not take the record of job-7: Entry 3 is held with other content. Call the team lead. Everything is kept here, and tried again every ten minutes.", lines[0].Text);
        Assert.StartsWith("The watch room does not take the tablet's own record: It is damaged. Call the team lead.", lines[1].Text, StringComparison.Ordinal);
        Assert.DoesNotContain("held with", lines[2].Text, StringComparison.Ordinal);
    }
}
