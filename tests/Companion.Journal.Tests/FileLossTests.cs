using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests;

/// <summary>I12: files cut short, missing, of an earlier day, of another store. Nothing acknowledged goes missing without being told.</summary>
public sealed class FileLossTests
{
    private const int Page = 8192;

    /// <summary>Where files are cut besides the borders; COMPANION_BIT_FLIPS=8 cuts the witness and the small files everywhere.</summary>
    private static readonly int Step = Scale.Of("COMPANION_BIT_FLIPS", 1) == 8 ? 1 : 37;

    public static TheoryData<string> Files =>
        ["companion.witness", "companion.sealed", "companion.db", "companion.db.sums", "companion-log", "companion-log.sums", "tablet.key"];

    [Theory]
    [MemberData(nameof(Files))]
    public async Task A_file_cut_short_anywhere_is_noticed_or_does_no_harm(string name)
    {
        foreach (var good in new[] { await Stores.Small(), await Stores.Killed() })
        {
            var inspection = await Inspection.Of(good);
            var path = $"{Stores.Folder}/{name}";
            var length = good.Bytes(path).Length;
            var hasLog = good.Bytes($"{Stores.Folder}/companion-log").Length > 0;
            foreach (var cut in Cuts(name, good.Bytes(path)))
            {
                var changed = good.Copy();
                changed.Damage(path, bytes => bytes.RemoveRange(cut, bytes.Count - cut));
                var isNoticed = Inspection.IsNoticedByVerifying(changed, $"{name} cut at {cut}");
                isNoticed |= (await inspection.Open(changed, $"{name} cut at {cut}")).Count > 0;
                Assert.True(isNoticed || MayBeShort(name, cut, length, hasLog), $"{name} cut at {cut} of {length} goes unnoticed");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Files))]
    public async Task A_missing_file_is_noticed_unless_it_was_empty(string name)
    {
        foreach (var good in new[] { await Stores.Small(), await Stores.Killed() })
        {
            var inspection = await Inspection.Of(good);
            var changed = good.Copy();
            changed.Delete($"{Stores.Folder}/{name}");
            _ = Inspection.IsNoticedByVerifying(changed, name);
            var told = await inspection.Open(changed, name);
            Assert.True(told.Count > 0 || SaysNothing(good, name), $"{name} is missing and nobody is told");
        }
    }

    [Theory]
    [MemberData(nameof(Files))]
    public async Task An_earlier_copy_of_one_file_costs_nothing_or_is_told(string name)
    {
        var copies = await Copies();
        var now = copies[^1];
        var inspection = await Inspection.Of(now);
        foreach (var (earlier, index) in copies.SkipLast(1).Select((copy, index) => (copy, index)))
        {
            var changed = now.Copy();
            changed.Put($"{Stores.Folder}/{name}", earlier.Bytes($"{Stores.Folder}/{name}"));
            var where = $"{name} as it was after append {index}";
            _ = Inspection.IsNoticedByVerifying(changed, where);
            var told = await inspection.Open(changed, where);
            Assert.True(name != "companion.witness" || told.Count > 0, where);
        }
    }

    [Theory]
    [MemberData(nameof(Files))]
    public async Task A_file_of_another_store_is_never_taken_for_this_ones(string name)
    {
        foreach (var good in new[] { await Stores.Small(), await Stores.Killed() })
        {
            var inspection = await Inspection.Of(good);
            var other = await OtherStore();
            var changed = good.Copy();
            changed.Put($"{Stores.Folder}/{name}", other.Bytes($"{Stores.Folder}/{name}"));
            _ = Inspection.IsNoticedByVerifying(changed, name);
            var told = await inspection.Open(changed, $"{name} of another store");
            Assert.True(told.Count > 0 || SaysNothing(good, name), $"{name} of another store is taken in silence");
        }
    }

    // Went wrong: the database was held for damaged, and the store went on as the other tablet's without a severe word.
    [Fact]
    public async Task A_witness_of_another_store_is_refused_and_nothing_is_changed()
    {
        var changed = await Stores.Small();
        changed.Put(Stores.Folder + "/companion.witness", (await OtherStore()).Bytes(Stores.Folder + "/companion.witness"));
        var before = changed.Files().ToDictionary(f => f, changed.Bytes);
        var refusal = await Assert.ThrowsAsync<StoreFaultException>(() => Stores.OpenAsTheAppDoes(changed));
        Assert.Contains("belong to two different stores", refusal.Message);
        Assert.Equal(before[Stores.Folder + "/companion.witness"], changed.Bytes(Stores.Folder + "/companion.witness"));
        Assert.Equal(before[Stores.Folder + "/companion.db"], changed.Bytes(Stores.Folder + "/companion.db"));
    }

    // Went wrong: a lost file of personal texts was read as an erasure of all of them, and the second copy was erased too.
    [Fact]
    public async Task A_lost_file_of_personal_texts_is_told_and_completed_from_the_second_copy()
    {
        var disk = await Stores.Small();
        disk.Delete(Stores.Folder + "/companion.sealed");
        await using var store = await Stores.Open(disk);
        Assert.True(Assert.Single(store.Findings).Severe);
        Assert.Equal("gloves on", store.Read("job-1")[1].Sealed["text"].Text);
    }

    [Fact]
    public async Task An_earlier_copy_of_the_personal_texts_brings_no_erased_one_back()
    {
        var disk = await Stores.Small();
        var earlier = disk.Bytes(Stores.Folder + "/companion.sealed");
        await using (var store = await Stores.Open(disk))
        {
            Assert.True(await store.EraseSealedAsync("job-1", 2));
        }

        disk.Put(Stores.Folder + "/companion.sealed", earlier);
        await using var again = await Stores.Open(disk);
        Assert.Empty(again.Read("job-1")[1].Sealed);
        Assert.All(disk.Files(), f => Assert.True(disk.Bytes(f).AsSpan().IndexOf("gloves on"u8) < 0, f));
    }

    // A whole store of an earlier day is a good store: only someone who saw a later signed head can tell.
    [Fact]
    public async Task A_store_put_back_whole_to_an_earlier_day_cannot_be_noticed_from_inside()
    {
        var copies = await Copies();
        await using var store = await Stores.Open(copies[1]);
        Assert.Empty(store.Findings);
        await using var now = await Stores.Open(copies[^1]);
        Assert.True(now.Read("job-1").Count > store.Read("job-1").Count);
    }

    /// <summary>Copies of one store as it grew, each as a killed process leaves it.</summary>
    private static async Task<List<SimulatedDisk>> Copies()
    {
        var disk = new SimulatedDisk();
        var copies = new List<SimulatedDisk>();
        for (var session = 0; session < 2; session++)
        {
            await using var store = await Stores.Open(disk);
            copies.Add(disk.Copy());
            for (var i = 0; i < 3; i++)
            {
                await store.AppendAsync([Drafts.Heard("job-1", $"phrase {session} {i}"), Drafts.Of("job-1", "clock.anchored")]);
                copies.Add(disk.Copy());
            }
        }

        return copies;
    }

    private static async Task<SimulatedDisk> OtherStore()
    {
        var disk = new SimulatedDisk();
        await using var store = await JournalStore.OpenAsync(
            Stores.Folder, new StoreOptions(new FixedClock()) { Kind = Companion.Contracts.StoreKind.Rehearsal, Disk = disk });
        await store.AppendAsync([Drafts.Of("job-1", "job.opened"), Drafts.Heard("job-1", "words of another tablet")]);
        await store.AppendAsync([Drafts.Heard("job-1", "and more of them"), Drafts.Of("job-1", "clock.anchored")]);
        return disk.Copy();
    }

    private static bool SaysNothing(SimulatedDisk good, string name)
    {
        var log = good.Bytes(Stores.Folder + "/companion-log");
        return log.Length == 0 && name is "companion-log" or "companion-log.sums";
    }

    private static IEnumerable<int> Cuts(string name, byte[] bytes)
    {
        var borders = name is "companion.db" or "companion-log"
            ? Enumerable.Range(0, bytes.Length / Page).Select(page => page * Page)
            : name.EndsWith(".sums", StringComparison.Ordinal) ? Enumerable.Range(0, bytes.Length / 4).Select(record => record * 4) : Frames(name, bytes);
        var among = borders.SelectMany(at => new[] { at - 1, at, at + 1 });
        var every = name is "companion.db" or "companion-log" ? [] : Enumerable.Range(0, bytes.Length).Where(at => at % Step == 0);
        return among.Concat(every).Append(bytes.Length - 1).Where(at => at >= 0 && at < bytes.Length).Distinct();
    }

    private static IEnumerable<int> Frames(string name, byte[] bytes)
    {
        for (var at = 0; name != "tablet.key" && at < bytes.Length; at += 8 + BitConverter.ToInt32(bytes, at))
        {
            yield return at;
        }
    }

    /// <summary>
    /// A key without its last line's end, checksums of pages that the log no longer has, and whole pages that the log holds anew: opening
    /// puts them back.
    /// </summary>
    private static bool MayBeShort(string name, int cut, int length, bool hasLog) =>
        name is "companion-log.sums" or "companion.db.sums"
        || (name == "tablet.key" && cut >= length - 2)
        || (name == "companion.db" && hasLog && cut % Page == 0);
}
