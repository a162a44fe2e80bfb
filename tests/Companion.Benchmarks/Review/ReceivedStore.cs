using System.Security.Cryptography;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Access;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Web;

namespace Companion.Benchmarks.Review;

/// <summary>A watch room's received journals in a folder of their own, of one tablet, with the records that its pages show.</summary>
internal sealed class ReceivedStore : IDisposable
{
    private const int LinesAtOnce = 2000;
    private static readonly Guid Tablet = Guid.NewGuid();
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("companion-bench-received-");
    private readonly JournalReceiver receiver;

    public ReceivedStore()
    {
        receiver = JournalReceiver.Open(Path.Combine(folder.FullName, "received"));
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var devices = new Devices(folder.FullName, TimeProvider.System);
        Device = devices.Pair(new PairingRequest("0", Tablet, "van 1", Convert.ToBase64String(key.ExportSubjectPublicKeyInfo())))!.Name;
        Records = new ReceivedRecords(devices, receiver, checksEnds: false);
    }

    /// <summary>The tablet's name.</summary>
    public string Device { get; }

    /// <summary>The records.</summary>
    public ReceivedRecords Records { get; }

    /// <summary>The files of all chains.</summary>
    public IEnumerable<string> Files => Directory.EnumerateFiles(Path.Combine(folder.FullName, "received", Device), "*.chain");

    /// <summary>Takes a job as a tablet would send it.</summary>
    /// <param name="entries">What the loop recorded.</param>
    /// <param name="job">The job's name.</param>
    /// <param name="later">By how much later it is to have happened.</param>
    /// <returns>The job's lines.</returns>
    public async Task<IReadOnlyList<ReadOnlyMemory<byte>>> TakeAsync(IEnumerable<JournalEntry> entries, string job, TimeSpan later = default)
    {
        var lines = RecordedLines.Of(entries, job, Tablet, later).ToList();
        await TakeAsync(lines);
        return lines;
    }

    /// <summary>The same, but for the last line.</summary>
    /// <returns>That line.</returns>
    public async Task<ReadOnlyMemory<byte>> TakeAllButLastAsync(IEnumerable<JournalEntry> entries, string job, TimeSpan later)
    {
        var lines = RecordedLines.Of(entries, job, Tablet, later).ToList();
        await TakeAsync(lines[..^1]);
        return lines[^1];
    }

    /// <summary>Takes lines of one chain.</summary>
    public async Task TakeAsync(IEnumerable<ReadOnlyMemory<byte>> lines)
    {
        foreach (var some in lines.Chunk(LinesAtOnce))
        {
            var body = new MemoryStream();
            foreach (var line in some)
            {
                body.Write(line.Span);
                body.WriteByte((byte)'\n');
            }

            var receipt = await receiver.TakeAsync(Device, Tablet, body.ToArray());
            if (receipt.Outcome != ReceiptOutcome.Taken)
            {
                throw new InvalidOperationException(receipt.Reason);
            }
        }
    }

    public void Dispose()
    {
        receiver.Dispose();
        folder.Delete(recursive: true);
    }
}
