using System.Text;
using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Journal.Proof;
using Companion.Simulation.Disk;

namespace Companion.Watchroom.Tests.Receiving.Support;

/// <summary>A tablet's journal on a simulated disk, and its lines as the tablet would send them.</summary>
public sealed class Tablets
{
    public static readonly Guid Tablet = Guid.Parse("5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21");

    private const string Folder = "/tablet";
    private static readonly DateTimeOffset Start = new(2026, 11, 25, 18, 4, 5, 678, TimeSpan.FromHours(1));

    private readonly SimulatedDisk disk;

    private Tablets(SimulatedDisk disk) => this.disk = disk;

    /// <summary>A tablet with entries in a job's chain, every third with a personal text.</summary>
    public static async Task<Tablets> With(int entries, string job = "job-1", StoreKind kind = StoreKind.Real, Guid? tablet = null)
    {
        var made = new Tablets(new SimulatedDisk());
        await made.Record(0, entries, "on", job, kind, tablet ?? Tablet);
        return made;
    }

    /// <summary>The same tablet as it would be had it gone on differently.</summary>
    public async Task<Tablets> GoneOn(int from, int entries, string how, string job = "job-1")
    {
        var other = new Tablets(disk.Copy());
        await other.Record(from, entries, how, job, StoreKind.Real, Tablet);
        return other;
    }

    /// <summary>The lines of a chain, without their ends.</summary>
    public byte[][] Lines(string job = "job-1", bool withTexts = true)
    {
        using var output = new MemoryStream();
        JournalExport.Write(Folder, output, job, withTexts, disk);
        return [.. Encoding.UTF8.GetString(output.ToArray()).TrimEnd('\n').Split('\n').Select(Encoding.UTF8.GetBytes)];
    }

    /// <summary>A batch of lines.</summary>
    public static byte[] Batch(params IEnumerable<byte[]> lines) => [.. lines.SelectMany(line => line.Append((byte)'\n'))];

    private async Task Record(int from, int entries, string how, string job, StoreKind kind, Guid tablet)
    {
        var options = new StoreOptions(new Still()) { Kind = kind, TabletId = tablet, Disk = disk };
        await using var store = await JournalStore.OpenAsync(Folder, options);
        for (var i = from; i < from + entries; i++)
        {
            var texts = i % 3 == 0 ? new Dictionary<string, string> { ["text"] = $"gloves {how}, \u00fcber \ud83d\ude97 {i}" } : [];
            await store.AppendAsync([new EntryDraft(job, "speech.heard", Start.AddSeconds(i), "boot-one", i * 1000L, $$"""{"accepted":true,"reason":"{{how}}"}""", texts)]);
        }
    }

    private sealed class Still : IClock
    {
        public Moment Now() => new(Start, "boot-one", new Ticks(5_000_000_000), new Ticks(5_000_000_000));
    }
}
