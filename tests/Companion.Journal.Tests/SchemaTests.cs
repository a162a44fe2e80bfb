using System.Text.Json;
using Companion.Journal.Tests.Support;
using Json.Schema;

namespace Companion.Journal.Tests;

public sealed class SchemaTests
{
    /// <summary>The table of the journal format, as the design has it.</summary>
    private const string Table =
        """
        store.created segment.started head.signed job.opened job.closed job.handedover sheet.pinned sheet.imported
        scene.answered standoff.begun temperature.taken kit.checked question.asked code.asked code.accepted code.failed answer.corrected step.confirmed step.refused point.opened point.locked point.unlocked point.closed
        wait.started wait.completed wait.voided tester.proved reading.taken dead.proved dead.refused proof.voided disturbance.reported
        work.cleared work.stopped work.lapsed checkin.asked checkin.made checkin.unanswered alert.raised alert.taken prompt.spoken
        prompt.failed speech.heard device.lost device.returned view.lost phase.entered clock.anchored
        answer.echoed way.taken step.unable contact.confirmed
        tools.counted person.changed checkin.sooner call.taken link.heard nosignal.arranged sound.announced sound.recorded
        watch.opened watch.checkin watch.shortened watch.alerted watch.called watch.taken watch.ended watch.blind
        told.sent told.failed request.refused session.begun session.ended person.set person.removed paircode.made device.paired device.revoked
        review.commented review.countersigned
        job.looked tree.signed texts.erased person.exported paper.checked trouble.noted
        """;

    private static readonly string Text = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "journal-entry.schema.json"));
    private static readonly JsonSchema Schema = JsonSchema.FromText(Text);

    [Fact]
    public void The_schema_is_valid_json_schema_2020_12()
    {
        using var document = JsonDocument.Parse(Text);
        Assert.True(MetaSchemas.Draft202012.Evaluate(document.RootElement).IsValid);
    }

    [Fact]
    public void Every_type_of_the_table_has_a_row_and_no_other_has()
    {
        using var document = JsonDocument.Parse(Text);
        var expected = Table.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Order();
        var types = document.RootElement.GetProperty("properties").GetProperty("type").GetProperty("enum").EnumerateArray().Select(t => t.GetString()!);
        Assert.Equal(expected, types.Order());
        Assert.All(types, type => Assert.True(document.RootElement.GetProperty("$defs").TryGetProperty(type, out _), type));
    }

    [Fact]
    public async Task What_a_store_writes_fits_the_schema_with_and_without_sealed_texts()
    {
        var disk = await Stores.Small();
        foreach (var sealedToo in new[] { false, true })
        {
            using var output = new MemoryStream();
            Proof.JournalExport.Write(Stores.Folder, output, includeSealed: sealedToo, disk: disk);
            foreach (var line in System.Text.Encoding.UTF8.GetString(output.ToArray()).TrimEnd('\n').Split('\n'))
            {
                Assert.True(Fits(line), line);
            }
        }
    }

    [Theory]
    [InlineData("reading.taken", """{"testplace":"t1","pair":"p1","volts":"3.1","kind":"dc","tester":"x","purpose":"deadtest"}""", true)]
    [InlineData("reading.taken", """{"testplace":"t1","pair":"p1","below":"6","kind":"dc","tester":"x","purpose":"watching"}""", true)]
    [InlineData("reading.taken", """{"testplace":"t1","pair":"p1","kind":"dc","tester":"x","purpose":"deadtest"}""", false)]
    [InlineData("reading.taken", """{"testplace":"t1","pair":"p1","volts":"3.1","kind":"both","tester":"x","purpose":"deadtest"}""", false)]
    [InlineData("wait.started", """{"wait":"w1","circuit":"c1","seconds":600,"more":"m"}""", true)]
    [InlineData("wait.started", """{"wait":"w1","circuit":"c1","seconds":-1}""", false)]
    [InlineData("wait.guessed", "{}", false)]
    [InlineData("clock.anchored", """{"why":"tick"}""", true)]
    [InlineData("clock.anchored", """{"why":"because"}""", false)]
    public void Data_is_held_to_the_row_of_its_type(string type, string data, bool fits)
    {
        var entry = Format.EntryCodec.Encode(
            Drafts.Of("job-1", type, data), new Format.EntryPlace(Stores.Tablet, true, 1, Format.ChainHash.None));
        Assert.Equal(fits, Fits(System.Text.Encoding.UTF8.GetString(entry.Bytes.Span)));
    }

    private static bool Fits(string line)
    {
        using var document = JsonDocument.Parse(line);
        return Schema.Evaluate(document.RootElement).IsValid;
    }
}
