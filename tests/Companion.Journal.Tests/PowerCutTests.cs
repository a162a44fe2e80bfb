using System.Globalization;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;
using Xunit.Abstractions;

namespace Companion.Journal.Tests;

/// <summary>
/// I12 on a disk that loses, tears and reorders what was not synced. COMPANION_POWER_CUT_SEEDS asks for more chances a write.
/// </summary>
public sealed class PowerCutTests(ITestOutputHelper output)
{
    private const string Phrase = "ferrand says gloves on";

    private static readonly int Seeds = int.Parse(
        Environment.GetEnvironmentVariable("COMPANION_POWER_CUT_SEEDS") ?? "2", CultureInfo.InvariantCulture);

    [Fact]
    public async Task A_power_cut_at_any_operation_loses_nothing_acknowledged()
    {
        var whole = new SimulatedDisk();
        await Work(whole, new Record());
        for (var cut = 1; cut <= whole.Operations; cut++)
        {
            for (var seed = 0; seed < Seeds; seed++)
            {
                await CutAndReopen(cut, seed);
            }
        }

        output.WriteLine($"{whole.Operations} operations cut with {Seeds} chances each");
    }

    [Fact]
    public async Task A_power_cut_while_recovering_from_one_loses_nothing_either()
    {
        var chance = new Random(11);
        for (var run = 0; run < 40 * Seeds; run++)
        {
            var disk = new SimulatedDisk { CutAt = chance.Next(30, 200) };
            var record = new Record();
            await Work(disk, record);
            var second = disk.AfterCut(chance);
            second.CutAt = chance.Next(1, 60);
            await Work(second, record);
            await Check(second.AfterCut(chance), record, $"run {run}");
        }
    }

    [Fact]
    public async Task A_full_disk_at_any_write_is_said_and_loses_nothing_acknowledged()
    {
        var whole = new SimulatedDisk();
        await Work(whole, new Record());
        for (var full = 1; full <= whole.Operations; full += 2)
        {
            var disk = new SimulatedDisk { FullFrom = full };
            var record = new Record();
            var fault = await Work(disk, record);
            Assert.True(fault is null || fault.Message.Contains("disk is full", StringComparison.Ordinal), fault?.Message);
            disk.FullFrom = null;
            await Check(disk.Copy(), record, $"full from {full}");
        }
    }

    private static async Task CutAndReopen(int cut, int seed)
    {
        var disk = new SimulatedDisk { CutAt = cut };
        var record = new Record();
        await Work(disk, record);
        await Check(disk.AfterCut(new Random((cut * 1000) + seed)), record, $"cut {cut}, seed {seed}");
    }

    /// <summary>Opens, appends, erases and closes, twice, until the disk fails; the record holds what was acknowledged.</summary>
    private static async Task<StoreFaultException?> Work(SimulatedDisk disk, Record record)
    {
        try
        {
            for (var run = 0; run < 2; run++)
            {
                await using var store = await Stores.Open(disk);
                await Append(store, record, Drafts.Of("job-1", "job.opened"), Drafts.Of("job-1", "sheet.pinned", LargeSheet));
                await Append(store, record, Drafts.Heard("job-1", Phrase));
                await Append(store, record, Drafts.Of(Chains.Tablet, "device.lost"), Drafts.Of("job-1", "clock.anchored"));
                var heard = store.Read("job-1").Last(e => e.Sealed.Count > 0);
                if (await store.EraseSealedAsync("job-1", heard.Sequence))
                {
                    record.Erased.Add(heard.Hash);
                }

                await Append(store, record, Drafts.Of("job-1", "job.closed"));
            }

            return null;
        }
        catch (StoreFaultException fault)
        {
            return fault;
        }
    }

    // More than one page, so that a commit can tear between pages.
    private static readonly string LargeSheet = $$"""{"sheet":"{{new string('s', 20_000)}}"}""";

    private static async Task Append(JournalStore store, Record record, params EntryDraft[] drafts) =>
        record.Acknowledged.AddRange((await store.AppendAsync(drafts)).Select(e => e.Hash));

    private static async Task Check(SimulatedDisk disk, Record record, string where)
    {
        await using (var store = await Stores.Open(disk))
        {
            Assert.False(store.Findings.Any(f => f.Severe), $"{where}: {string.Join(" | ", store.Findings)}");
            var entries = store.ChainNames().SelectMany(c => store.Read(c)).ToDictionary(e => e.Hash);
            Assert.True(record.Acknowledged.All(entries.ContainsKey), $"{where}: an acknowledged entry is missing");
            Assert.True(record.Erased.All(h => entries[h].Sealed.Count == 0), $"{where}: an erased text is back");
            await store.AppendAsync([Drafts.Of("job-1", "clock.anchored")]);
        }

        var report = JournalVerifier.Verify(Stores.Folder, disk);
        Assert.True(report.IsSound, $"{where}: {string.Join(" | ", report.Lines())}");
    }

    private sealed class Record
    {
        public List<string> Acknowledged { get; } = [];

        public List<string> Erased { get; } = [];
    }
}
