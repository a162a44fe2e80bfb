using System.Text.RegularExpressions;
using Companion.Engine.Ports;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests;

/// <summary>
/// What the technician is told in each case: the message that the app prints or the engine speaks. It says what happened and what to
/// do, and nothing about how the files are made inside; that is in the finding's detail.
/// </summary>
public sealed partial class WordsTests
{
    private const string Witness = Stores.Folder + "/companion.witness";
    private const string Data = Stores.Folder + "/companion.db";
    private const string Texts = Stores.Folder + "/companion.sealed";
    private const string Key = Stores.Folder + "/tablet.key";
    private const string TellLead = "tell the team lead";

    private static readonly Dictionary<string, Action<SimulatedDisk>> Damages = new()
    {
        ["record damaged"] = disk => disk.Damage(Witness, bytes => bytes[700] ^= 1),
        ["record lost"] = disk => disk.Delete(Witness),
        ["last write interrupted"] = disk => disk.Damage(Witness, bytes => bytes.AddRange([9, 0, 0, 0, 1])),
        ["second copy damaged"] = disk => disk.Damage(Data, bytes => bytes[9000] ^= 1),
        ["second copy of no use at all"] = disk => disk.Damage(Data, bytes => bytes.RemoveRange(0, 4000)),
        ["texts damaged"] = disk => disk.Damage(Texts, bytes => bytes[20] ^= 1),
        ["texts lost"] = disk => disk.Delete(Texts),
        ["key damaged"] = disk => disk.Damage(Key, bytes => bytes[100] ^= 1),
        ["key lost"] = disk => disk.Delete(Key),
        ["disk full"] = disk => disk.FullFrom = 1,
        ["disk read-only"] = disk => (disk.ErrorAt, disk.ErrorNumber, disk.ErrorLasts) = (1, 30, true),
        ["disk failing"] = disk => (disk.ErrorAt, disk.ErrorLasts) = (1, true),
    };

    [Theory]
    [InlineData("record damaged", "The record was damaged on the disk.", "copy them for the team lead. Treat every proof of this job as void")]
    [InlineData("record lost", "The record was damaged on the disk.", "copy them for the team lead. Treat every proof of this job as void")]
    [InlineData("last write interrupted", "interrupted before it was confirmed", "Nothing that was confirmed is missing")]
    [InlineData("second copy damaged", "The second copy of the record was damaged", TellLead)]
    [InlineData("second copy of no use at all", "The second copy of the record was damaged", TellLead)]
    [InlineData("texts damaged", "The names and heard words that are kept beside the record were damaged", TellLead)]
    [InlineData("texts lost", "The names and heard words that are kept beside the record were damaged", TellLead)]
    [InlineData("key damaged", "The key that signs this tablet's record", TellLead)]
    [InlineData("key lost", "The key that signs this tablet's record", TellLead)]
    [InlineData("disk full", "the disk is full", "Free some space")]
    [InlineData("disk read-only", "the disk takes no more writes", "use another tablet")]
    [InlineData("disk failing", "the disk failed", "Restart the app; if it comes back, use another tablet")]
    public async Task Opening_a_damaged_store_says_what_happened_and_what_to_do(string damage, string happened, string toDo)
    {
        var disk = await Stores.Small();
        Damages[damage](disk);
        var told = Assert.Single(await Told(disk));
        Assert.Contains(happened, told, StringComparison.OrdinalIgnoreCase);
        Assert.Contains(toDo, told, StringComparison.OrdinalIgnoreCase);
        AssertPlain(told);
    }

    [Theory]
    [InlineData("disk full", "The disk is full. Free some space")]
    [InlineData("disk read-only", "The disk takes no more writes")]
    [InlineData("disk failing", "The disk failed. Restart the app")]
    public async Task A_store_that_fails_in_mid_job_says_what_happened_and_what_to_do(string damage, string happened)
    {
        var disk = new SimulatedDisk();
        await using var store = await Stores.Open(disk);
        await store.AppendAsync([Drafts.Of("job-1", "job.opened")]);
        Damages[damage](disk);
        var fault = await Assert.ThrowsAsync<StoreFaultException>(async () => await store.AppendAsync([Drafts.Of("job-1", "clock.anchored")]));
        Assert.StartsWith(happened, fault.Message, StringComparison.Ordinal);

        // The engine says it after "Not recording.", aloud: no folder, and nothing twice.
        Assert.DoesNotContain(Stores.Folder, fault.Message);
        Assert.DoesNotContain("Not recording", fault.Message);
        AssertPlain(fault.Message);
    }

    [Fact]
    public async Task A_damage_keeps_its_inner_detail_for_the_next_engineer()
    {
        var disk = await Stores.Small();
        Damages["record damaged"](disk);
        await using var store = await Stores.Open(disk);
        Assert.Contains("of the witness do not fit", Assert.Single(store.Findings).Detail);
    }

    [Fact]
    public async Task A_store_that_is_open_elsewhere_says_so()
    {
        var disk = new SimulatedDisk();
        await using var store = await Stores.Open(disk);
        var told = Assert.Single(await Told(disk));
        Assert.Contains("already open in this or another program. Close the other one first", told);
        AssertPlain(told);
    }

    private static async Task<IReadOnlyList<string>> Told(SimulatedDisk disk)
    {
        try
        {
            await using var store = await Stores.Open(disk);
            return [.. store.Findings.Select(f => f.Message)];
        }
        catch (StoreFaultException fault)
        {
            return [fault.Message];
        }
    }

    private static void AssertPlain(string told)
    {
        var words = told.Replace(Stores.Folder, "the folder", StringComparison.Ordinal);
        Assert.False(Jargon().IsMatch(words), $"'{Jargon().Match(words)}' in: {told}");
        Assert.False(words.Contains('\n', StringComparison.Ordinal), told);
        Assert.Matches("[.]$", words);
    }

    [GeneratedRegex(
        @"LiteDB|witness|sealed|frame|checksum|CRC|\bsums?\b|\blog\b|\bpages?\b|\bbytes?\b|exception|segment|\bhash|JSON|\bchains?\b|0x|errno|\bat \w+\.\w+\(",
        RegexOptions.IgnoreCase)]
    private static partial Regex Jargon();
}
