using Companion.Contracts;
using Companion.Domain.Isolation;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Proof;

namespace Companion.Tablet.Workshop;

/// <summary>Reads a store's jobs without changing it, while the app may be running: what stands against live work in the workshop.</summary>
public static class StoreJobs
{
    /// <summary>True when a journal lies in the folder.</summary>
    public static bool Exists(string store)
    {
        var disk = new LocalDisk();
        return disk.Exists(StoreFiles.Current(disk, store).Witness);
    }

    /// <summary>Why no live work may begin now; null when no job of the store stands against it.</summary>
    /// <param name="store">A store that exists.</param>
    /// <param name="now">The wall clock: a clear to work that was handed over lapses by it.</param>
    /// <exception cref="StoreFaultException">The store cannot be read.</exception>
    public static string? Obstacle(string store, DateTimeOffset now)
    {
        if (!JournalVerifier.Verify(store).IsSound)
        {
            return "The record of this store is not sound, so that it cannot tell whether a job is open. Run verify first.";
        }

        var jobs = Entries(store)
            .Where(entry => entry.Chain != Chains.Tablet)
            .GroupBy(entry => entry.Chain, (_, entries) => Rebuild.JobOf(entries))
            .OfType<Job>()
            .ToList();
        return jobs.FirstOrDefault(job => !job.Ended) is { } open
            ? $"The job {open.Id} is open in this store. End it first; live work is no part of a roadside job."
            : jobs.FirstOrDefault(job => HoldsClear(job, now)) is { } cleared
                ? $"The job {cleared.Id} ended with clear to work, which somebody may still rely on. Wait until it has lapsed."
            : null;
    }

    private static bool HoldsClear(Job job, DateTimeOffset now) => job.Clearance?.DueWall > now;

    private static List<JournalEntry> Entries(string store)
    {
        using var export = new MemoryStream();
        JournalExport.Write(store, export);
        export.Position = 0;
        using var lines = new StreamReader(export);
        var entries = new List<JournalEntry>();
        while (lines.ReadLine() is { } line)
        {
            entries.Add(EntryCodec.Parse(System.Text.Encoding.UTF8.GetBytes(line)));
        }

        return entries;
    }
}
