using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Cli;
using Companion.Watchroom.Tests.Proving;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Access;

/// <summary>What the watch room writes of security and of tellings.</summary>
public sealed class AuditEntryTests
{
    private static readonly string[] Types =
    [
        "device.paired", "device.revoked", "job.looked", "paircode.made", "paper.checked", "person.exported", "person.removed", "person.set", "request.refused", "session.begun", "session.ended", "texts.erased", "told.failed", "told.sent", "tree.signed", "trouble.noted",
    ];

    [Fact]
    public async Task Every_entry_has_its_row_in_the_schema_and_keeps_to_its_members()
    {
        await using var rig = await WatchroomRig.StartAsync();
        await HappenAsync(rig);
        await WatchroomRig.UntilAsync(() => Types.Except(Entries(rig).Select(entry => entry.Type)).Any() is false, "every type was written");

        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "journal-entry.schema.json")));
        foreach (var entry in Entries(rig))
        {
            var row = document.RootElement.GetProperty("$defs").GetProperty(entry.Type);
            var known = row.GetProperty("properties");
            using var data = JsonDocument.Parse(entry.Data);
            var members = data.RootElement.EnumerateObject().Select(member => member.Name).ToHashSet();
            Assert.Subset(known.EnumerateObject().Select(member => member.Name).ToHashSet(), members);
            Assert.Superset(row.GetProperty("required").EnumerateArray().Select(name => name.GetString()!).ToHashSet(), members);
            Assert.All(entry.Sealed.Keys, name => Assert.Equal("#/$defs/personal", known.GetProperty(name).GetProperty("$ref").GetString()));
        }
    }

    private static IEnumerable<Companion.Contracts.JournalEntry> Entries(WatchroomRig rig) => rig.App.Journal.Read("audit").Concat(rig.App.Journal.Read("telling"));

    private static async Task HappenAsync(WatchroomRig rig)
    {
        var siren = Path.Combine(rig.Store, "siren");
        await File.WriteAllTextAsync(siren, $"#!/bin/sh\n[ -e '{siren}.once' ] && exit 0\ntouch '{siren}.once'\nexit 3\n");
        File.SetUnixFileMode(siren, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        await File.WriteAllTextAsync(Path.Combine(rig.Store, "ringround.json"), $$"""[{"name":"horn","channel":"siren","address":"{{siren}}","aftersec":0}]""");
        foreach (var verb in new[] { "add-person|Ilse Marr|teamlead", "remove-person|Ilse Marr", "pair-code" })
        {
            Assert.Equal(0, await Verbs.RunAsync([.. verb.Split('|'), "--store", rig.Store], TextWriter.Null, Console.Error, TextReader.Null));
        }

        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        using var visitor = await Visitor.SignedInAsync(rig, "Petra Ash");
        (await visitor.PostAsync("/devices", "/devices/code")).Dispose();
        (await visitor.PostAsync("/", "/troubles/note", ("trouble", "none"))).Dispose();
        rig.Services.Audit.Checked(tablet.Device, "job-1", entry: 3, "fits");
        foreach (var lines in (await SignedRecord.OfAsync(tablet.Tablet, jobs: ["job-1"])).SelectMany(record => new[] { record.JobLines, record.TabletLines }))
        {
            (await tablet.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(lines))).Dispose();
        }

        (await visitor.GetAsync($"/jobs/{tablet.Device}/job-1/export")).Dispose();
        (await visitor.PostAsync("/personal", "/personal/export", ("name", "Ines Marr"))).Dispose();
        (await visitor.PostAsync("/personal", "/personal/erase", ("device", tablet.Device), ("job", "job-1"), ("reason", "asked by letter"))).Dispose();
        (await visitor.PostAsync("/devices", "/devices/revoke", ("device", tablet.Device))).Dispose();
        (await visitor.PostAsync("/", "/logout")).Dispose();
        (await tablet.SendSignedAsync(UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat()))).Dispose();
    }
}
