using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Domain;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.Engine.Codec.Upcasting;
using Companion.Review.Lines;
using Companion.TestKit;

namespace Companion.Review.Tests;

public sealed class VersionTests
{
    private static readonly DateTimeOffset Start = new(2031, 5, 4, 21, 0, 0, TimeSpan.FromHours(1));

    // Invented: the format has never changed so that a step was needed. Here version 1 is taken to have counted waits in minutes.
    private static readonly Upcasters Later = new(2, [new MinutesToSeconds()]);

    [Fact]
    public void What_an_older_version_wrote_is_read_as_it_was_meant_and_stays_as_it_was_written()
    {
        var written = Entry(1, "wait.started", """{"circuit":"main","minutes":10,"wait":"link"}""");

        var job = RecordedJob.Of("j", [written], Later);

        Assert.Equal(new WaitStarted(new("link"), new("main"), 600), job.Entries[0].Happened);
        Assert.Empty(job.Troubles);
        Assert.Equal(written, job.Entries[0].Entry);
    }

    [Fact]
    public void What_the_newest_version_wrote_passes_no_step()
    {
        var job = RecordedJob.Of("j", [Entry(1, "wait.started", """{"circuit":"main","seconds":10,"wait":"link"}""") with { Format = 2 }], Later);
        Assert.Equal(10, Assert.IsType<WaitStarted>(job.Entries[0].Happened).Seconds);
    }

    [Fact]
    public void A_step_that_is_missing_or_out_of_order_is_noticed_at_the_start()
    {
        Assert.Throws<ArgumentException>(() => new Upcasters(2, []));
        Assert.Throws<ArgumentException>(() => new Upcasters(3, [new MinutesToSeconds()]));
        Assert.Throws<ArgumentException>(() => new Upcasters(2, [new MinutesToSeconds(), new MinutesToSeconds()]));
    }

    [Fact]
    public void Entries_of_a_newer_version_are_told_once_and_shown_with_their_times_and_types()
    {
        var job = RecordedJob.Of(
            "j", [Entry(1, "wait.started", """{"circuit":"main","seconds":10,"wait":"link"}"""), Entry(2, "wait.over", "{}") with { Format = 2 }, Entry(3, "job.closed", "{}") with { Format = 2 }]);

        var trouble = Assert.Single(job.Troubles);
        Assert.Equal((2, TroubleKind.Newer), (trouble.Sequence, trouble.Kind));
        Assert.Contains("version 2 of the format; this one reads up to 1. Update this machine", trouble.Words, StringComparison.Ordinal);
        var marks = Timeline.Of(job).Marks;
        Assert.Equal([1, 2, 3], marks.Select(mark => mark.At / 1_000_000_000 + 1));
        Assert.Contains("wait.over", marks[1].Words, StringComparison.Ordinal);
        Assert.Equal(MarkKind.Plain, marks[2].Kind);
    }

    // The earliest form of these entries in the history of this project: since then only members that may be left out were added.
    [Fact]
    public void The_earliest_form_of_every_entry_that_has_grown_since_is_read_today_without_a_step()
    {
        var opened = Entry(
            1, "job.opened",
            """{"awake":"0","kit":[],"latestwall":"2031-05-04T20:00:00+01:00","name":"5d","policy":"secondperson","rating":"acfigure","rehearsal":false,"technician":"t1"}""");
        var echoed = Entry(2, "answer.echoed", """{"below":false,"by":"voice","confidence":900,"number":"12","phrase":"sheet","question":1}""");
        var pinned = Entry(3, "sheet.pinned", new JsonObject { ["sheet"] = EarliestSheet(), ["digest"] = "d", ["approver"] = "Petra Ash" }.ToJsonString());
        var over = Entry(4, "job.handedover", """{"reason":"tow"}""");

        var job = RecordedJob.Of("j", [opened, echoed, pinned, over]);

        Assert.Empty(job.Troubles);
        Assert.Equal("t1", Assert.IsType<JobOpened>(job.Entries[0].Happened).Technician);
        Assert.Null(Assert.IsType<AnswerEchoed>(job.Entries[1].Happened).About);
        Assert.Equal(DemoSheets.Van().Waits.Length, Assert.IsType<SheetPinned>(job.Entries[2].Happened).Sheet.Waits.Length);
        Assert.Equal(new JobHandedOver("tow", LocksAtHandOver.None), job.Entries[3].Happened);
    }

    private static JsonObject EarliestSheet()
    {
        string[] members =
        [
            "id", "number", "edition", "vehicle", "marking", "source", "approver", "rehearsalonly", "highestvolts", "retestminutes", "floorvolts",
            "stayslive", "circuits", "points", "waits", "testplaces", "disturbances", "steps", "alternatives",
        ];
        var today = SheetJson.Write(DemoSheets.Van());
        return new JsonObject(today.Where(member => members.Contains(member.Key)).Select(member => KeyValuePair.Create(member.Key, member.Value?.DeepClone())));
    }

    private static JournalEntry Entry(long sequence, string type, string data) => new(
        "j", sequence, type, Start.AddSeconds(sequence), "boot", sequence * 1_000_000_000L, false, data,
        $"h{sequence - 1}", $"h{sequence}", ReadOnlyMemory<byte>.Empty, new Dictionary<string, SealedText>());

    private sealed class MinutesToSeconds : IUpcaster
    {
        public int From => 1;

        public void Raise(string type, JsonObject data)
        {
            if (type == "wait.started" && data["minutes"] is { } minutes)
            {
                data["seconds"] = minutes.GetValue<int>() * 60;
                data.Remove("minutes");
            }
        }
    }
}
