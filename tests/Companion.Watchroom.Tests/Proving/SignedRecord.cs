using System.Text;
using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Journal.Heads;
using Companion.Journal.Proof;
using Companion.Simulation.Disk;

namespace Companion.Watchroom.Tests.Proving;

/// <summary>A tablet's real journal with a job in it: the export lines of the job and of the tablet's own chain, with what is sealed.</summary>
public sealed record SignedRecord(string Job, string[] JobLines, string[] TabletLines)
{
    private const string Folder = "/tablet";
    private static readonly DateTimeOffset Start = new(2026, 3, 1, 9, 0, 0, TimeSpan.Zero);

    /// <summary>Some jobs of a tablet, one after another, each of three entries: the records are of the same journal.</summary>
    public static async Task<SignedRecord[]> OfAsync(Guid tablet, IHeadSigner? signer = null, DateTimeOffset? at = null, params string[] jobs)
    {
        var disk = new SimulatedDisk();
        var options = new StoreOptions(new Still()) { Kind = StoreKind.Real, TabletId = tablet, Disk = disk, Signer = signer };
        await using (var journal = await JournalStore.OpenAsync(Folder, options))
        {
            foreach (var job in jobs)
            {
                await journal.AppendAsync([Draft(job, "job.opened", """{"technician":"crew-4"}""", ("name", "Ines Marr"), ("place", "Quarry road"))]);
                await journal.AppendAsync([Draft(job, "speech.heard", """{"accepted":true,"reason":"","confidence":900}""", ("text", "Ines here, gloves on"))]);
                await journal.AppendAsync([Draft(job, "job.closed", """{"reason":"put back"}""")]);
            }
        }

        var own = Lines(disk, Chains.Tablet);
        return [.. jobs.Select(job => new SignedRecord(job, Lines(disk, job), own))];

        EntryDraft Draft(string job, string type, string data, params (string Member, string Text)[] texts) => new(
            job, type, at ?? Start, "boot", 1, data, texts.ToDictionary(text => text.Member, text => text.Text));
    }

    private static string[] Lines(SimulatedDisk disk, string chain)
    {
        using var output = new MemoryStream();
        JournalExport.Write(Folder, output, chain, includeSealed: true, disk);
        return Encoding.UTF8.GetString(output.ToArray()).TrimEnd('\n').Split('\n');
    }

    private sealed class Still : IClock
    {
        public Moment Now() => new(Start, "boot", Ticks.OfSeconds(5), Ticks.OfSeconds(5));
    }
}
