using Companion.Engine.Ports;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;
using Xunit.Abstractions;

namespace Companion.Journal.Tests;

/// <summary>
/// I12 on a disk that loses, tears and reorders what was not synced. COMPANION_POWER_CUT_SEEDS asks for more chances an operation.
/// </summary>
public sealed class PowerCutTests(ITestOutputHelper output)
{
    private const string Witness = Stores.Folder + "/companion.witness";
    private const int Recoveries = 60;
    private const int MostCutsInARow = 4;

    private static readonly int Seeds = Scale.Of("COMPANION_POWER_CUT_SEEDS", 1);

    [Fact]
    public async Task A_power_cut_at_any_operation_loses_nothing_acknowledged()
    {
        var whole = new SimulatedDisk();
        Assert.Null(await new Workload().Run(whole));
        for (var cut = 1; cut <= whole.Operations; cut++)
        {
            for (var seed = 0; seed < Seeds; seed++)
            {
                var disk = new SimulatedDisk { CutAt = cut };
                var work = new Workload();
                await work.Run(disk);
                await work.Check(disk.AfterCut(new Random((cut * 1000) + seed)), $"cut {cut}, seed {seed}");
            }
        }

        output.WriteLine($"{whole.Operations} operations cut with {Seeds} chances each: {whole.Operations * Seeds} runs");
    }

    [Fact]
    public async Task Power_cuts_while_recovering_from_one_lose_nothing_either()
    {
        var cuts = 0;
        for (var run = 0; run < Recoveries * Seeds; run++)
        {
            var chance = new Random(run);
            var disk = new SimulatedDisk { CutAt = chance.Next(30, 250) };
            var work = new Workload();
            await work.Run(disk);
            for (var again = chance.Next(1, MostCutsInARow); again > 0; again--)
            {
                disk = disk.AfterCut(chance);
                disk.CutAt = chance.Next(1, 60);
                await work.Run(disk);
                cuts += disk.IsCut ? 1 : 0;
            }

            await work.Check(disk.AfterCut(chance), $"run {run}");
        }

        output.WriteLine($"{Recoveries * Seeds} runs with {cuts} cuts during recovery or soon after");
        Assert.True(cuts > Recoveries * Seeds, "hardly a recovery was cut");
    }

    [Fact]
    public async Task A_power_cut_while_a_full_log_is_moved_into_the_data_file_loses_nothing()
    {
        var whole = new SimulatedDisk();
        await using (var store = await Stores.Open(whole))
        {
            await FillLog(store, new Workload());
        }

        // The last append and the checkpoint it sets off are the last operations before closing.
        for (var cut = whole.Operations - 24; cut <= whole.Operations; cut += Seeds > 2 ? 1 : 8)
        {
            var disk = new SimulatedDisk { CutAt = cut };
            var work = new Workload();
            try
            {
                await using var store = await Stores.Open(disk);
                await FillLog(store, work);
            }
            catch (StoreFaultException)
            {
                Assert.True(disk.IsCut);
            }

            await work.Check(disk.AfterCut(new Random(cut)), $"cut {cut}");
        }
    }

    // Entries are in LiteDB as well: however often the power goes while the new segment is made, all of them hold and the damage is told.
    [Fact]
    public async Task A_power_cut_while_a_new_segment_is_started_loses_nothing_and_the_damage_is_still_told()
    {
        var damaged = new SimulatedDisk();
        var work = new Workload();
        Assert.Null(await work.Run(damaged));
        damaged.Damage(Witness, bytes => bytes[bytes.Count / 2] ^= 1);
        var whole = damaged.Copy();
        await (await Stores.Open(whole)).DisposeAsync();
        for (var cut = 1; cut <= whole.Operations; cut++)
        {
            var disk = damaged.Copy();
            disk.CutAt = cut;
            try
            {
                await (await Stores.Open(disk)).DisposeAsync();
            }
            catch (StoreFaultException)
            {
                Assert.True(disk.IsCut);
            }

            await using var store = await Stores.Open(disk.AfterCut(new Random(cut)));
            Assert.True(store.Findings.Any(f => f.Severe), $"cut {cut}: the damage was not told");
            work.CheckEntries(store, $"cut {cut}");
        }
    }

    // The suite notices a disk that lies: what it proves rests on syncs that are really asked for, of files and of folders.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task On_a_disk_that_leaves_syncs_out_the_same_cuts_do_lose_something(bool ofFiles)
    {
        var losses = 0;
        for (var cut = 20; cut <= 200; cut += 5)
        {
            var disk = new SimulatedDisk { CutAt = cut };
            var lying = new WrappedDisk(disk);
            _ = ofFiles ? lying.FileSync = _ => { } : lying.FolderSync = _ => { };
            var work = new Workload();
            await work.Run(lying);
            try
            {
                await work.Check(disk.AfterCut(new Random(cut)), $"cut {cut}");
            }
            catch (Xunit.Sdk.XunitException)
            {
                losses++;
            }
        }

        Assert.True(losses > 0);
    }

    private static async Task FillLog(JournalStore store, Workload work)
    {
        var large = $$"""{"sheet":"{{new string('s', 900_000)}}"}""";
        for (var i = 0; i < 5; i++)
        {
            await work.Append(store, Drafts.Of("job-1", "sheet.pinned", large), Drafts.Heard("job-1", $"phrase {i}"));
        }

        await work.Append(store, Drafts.Of("job-1", "job.closed"));
    }
}
