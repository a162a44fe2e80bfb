using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests;

/// <summary>
/// I12, I16: a disk that fills up, fails or turns read-only at any operation. The fault is said in plain words, nothing is tried again
/// as if it had worked, and the store opened again later has everything it acknowledged. COMPANION_DISK_ERROR_STEP=1 lets every
/// operation fail, not only every fourth.
/// </summary>
public sealed class DiskErrorTests
{
    private const int ReadOnly = 30;
    private const int InputOutput = 5;

    private static readonly int Step = Scale.Of("COMPANION_DISK_ERROR_STEP", 4);

    [Fact]
    public async Task A_full_disk_at_any_operation_is_said_and_loses_nothing_acknowledged()
    {
        var operations = await OperationsOfAll();
        for (var full = 1; full <= operations; full += Step)
        {
            var disk = new SimulatedDisk { FullFrom = full };
            var work = new Workload();
            var fault = await work.Run(disk);
            Assert.True(fault is null || fault.Message.Contains("disk is full. Free some space", StringComparison.Ordinal), $"{full}: {fault?.Message}");
            disk.FullFrom = null;
            await GoOnAndCut(disk, work, $"full from {full}");
        }
    }

    // Went wrong: an entry whose sync had failed was rolled forward from the witness, and a power cut later left a hole in it; and a cut of the log
    // whose sync had failed came undone with the power, so that old pages covered new ones. Every operation, because one in 324 did it.
    [Fact]
    public async Task A_write_or_sync_that_fails_once_is_said_and_loses_nothing_acknowledged_then_or_after_a_later_power_cut()
    {
        var operations = await OperationsOfAll();
        for (var failing = 1; failing <= operations; failing++)
        {
            var disk = new SimulatedDisk { ErrorAt = failing, ErrorNumber = InputOutput };
            var work = new Workload();
            var fault = await work.Run(disk);
            Assert.True(fault is null || fault.Message.Contains("disk failed. Restart the app", StringComparison.OrdinalIgnoreCase), $"{failing}: {fault?.Message}");
            disk.ErrorAt = null;
            await GoOnAndCut(disk, work, $"error at {failing}");
        }
    }

    [Fact]
    public async Task A_disk_that_turns_read_only_is_said_and_loses_nothing_acknowledged()
    {
        var operations = await OperationsOfAll();
        for (var from = 1; from <= operations; from += 2 * Step)
        {
            var disk = new SimulatedDisk { ErrorAt = from, ErrorNumber = ReadOnly, ErrorLasts = true };
            var work = new Workload();
            var fault = await work.Run(disk);
            Assert.True(fault is null || fault.Message.Contains("read-only", StringComparison.Ordinal), $"{from}: {fault?.Message}");
            Assert.NotNull(await work.Run(disk, sessions: 1));
            disk.ErrorAt = null;
            await GoOnAndCut(disk, work, $"read-only from {from}");
        }
    }

    [Fact]
    public async Task After_a_failed_sync_nothing_more_reaches_the_disk()
    {
        var disk = new SimulatedDisk();
        await using (var store = await Stores.Open(disk))
        {
            await store.AppendAsync([Drafts.Of("job-1", "job.opened")]);
            disk.ErrorAt = disk.Operations + 2;
            await Assert.ThrowsAsync<StoreFaultException>(async () => await store.AppendAsync([Drafts.Of("job-1", "clock.anchored")]));
            var operations = disk.Operations;
            await Assert.ThrowsAsync<StoreFaultException>(async () => await store.AppendAsync([Drafts.Of("job-1", "clock.anchored")]));
            await Assert.ThrowsAsync<StoreFaultException>(() => store.RecordHeadsAsync());
            await Assert.ThrowsAsync<StoreFaultException>(() => store.EraseSealedAsync("job-1", 1));
            await store.DisposeAsync();
            Assert.Equal(operations, disk.Operations);
        }
    }

    [Fact]
    public async Task A_lock_that_cannot_be_taken_on_a_read_only_disk_is_not_said_to_be_held_by_another_program()
    {
        var disk = new WrappedDisk(await Stores.Small()) { Locking = () => throw new IOException("Read-only file system", ReadOnly) };
        var fault = await Assert.ThrowsAsync<StoreFaultException>(() => Stores.Open(disk));
        Assert.Contains("read-only", fault.Message);
        Assert.DoesNotContain("already open", fault.Message);
    }

    // Went wrong: the base library's flush takes some failures of fsync for success, a file system turned read-only among them.
    [Fact]
    public void A_file_that_cannot_be_synced_is_never_taken_for_synced()
    {
        if (OperatingSystem.IsLinux())
        {
            using var file = new LocalDisk().OpenShared("/dev/null");
            Assert.Equal(22, Assert.Throws<IOException>(file.Sync).HResult);
        }
    }

    private static async Task<int> OperationsOfAll()
    {
        var disk = new SimulatedDisk();
        Assert.Null(await new Workload().Run(disk));
        return disk.Operations;
    }

    /// <summary>The store opened again on the same running system goes on; then the power goes, and the store is opened once more.</summary>
    private static async Task GoOnAndCut(SimulatedDisk disk, Workload work, string where)
    {
        await using (var store = await Stores.Open(disk))
        {
            Assert.False(store.Findings.Any(f => f.Severe), $"{where}: {string.Join(" | ", store.Findings)}");
            work.CheckEntries(store, where);
            await work.Append(store, Drafts.Of("job-1", "clock.anchored"), Drafts.Heard("job-1", "after the fault"));
            await work.Append(store, Drafts.Of("job-1", "clock.anchored"));
            await work.Check(disk.AfterCut(new Random(where.Length)), $"{where}, then the power went");
        }
    }
}
