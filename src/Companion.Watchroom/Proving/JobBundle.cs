using System.IO.Compression;
using System.Text;
using Companion.Journal.Proof;
using Companion.Watchroom.Receiving;

namespace Companion.Watchroom.Proving;

/// <summary>A job as it is handed out: the ordinary export, the proof, and in words how to check both, in one ZIP file. Callable from any thread.</summary>
internal static class JobBundle
{
    /// <summary>Makes it; null when nothing of the job is held.</summary>
    public static async Task<byte[]?> MakeAsync(IJournalReceiver receiver, CounterSigner signer, string device, string job)
    {
        // An ordinary export: what is sealed, the quiet word among it, stays here.
        var entries = receiver.Read(device, job).Select(line => ExportLine.Parse(line)).ToList();
        if (entries.Count == 0)
        {
            return null;
        }

        var proof = await signer.ProofAsync(device, job, entries.ToDictionary(entry => entry.Sequence, entry => entry.Hash)).ConfigureAwait(false);
        using var output = new MemoryStream();
        using (var zip = new ZipArchive(output, ZipArchiveMode.Create, leaveOpen: true))
        {
            await AddAsync(zip, $"{job}.ndjson", [.. entries.Select(entry => entry.Bytes)]).ConfigureAwait(false);
            if (proof is not null)
            {
                await AddAsync(zip, $"{job}.proof.json", [proof.ToJson()]).ConfigureAwait(false);
            }

            await AddAsync(zip, "READ-ME.txt", [Encoding.UTF8.GetBytes(Words(job, proof))]).ConfigureAwait(false);
        }

        return output.ToArray();
    }

    private static async Task AddAsync(ZipArchive zip, string name, IReadOnlyList<ReadOnlyMemory<byte>> lines)
    {
        await using var file = await zip.CreateEntry(name).OpenAsync().ConfigureAwait(false);
        foreach (var line in lines)
        {
            await file.WriteAsync(line).ConfigureAwait(false);
            await file.WriteAsync("\n"u8.ToArray()).ConfigureAwait(false);
        }
    }

    private static string Words(string job, ProofDocument? proof) => proof is null
        ? $"{job}.ndjson holds what the tablet recorded of this job, one entry a line.\nThere is no proof yet: the watch room has not received a signed end of the job that fits it.\n\n    ./companion verify {job}.ndjson"
        : $"{job}.ndjson holds what the tablet recorded of this job, one entry a line.\n{job}.proof.json holds the end of the job as the tablet signed it, and the watch room's signature over it.\n"
            + $"With the watch room's public key, fetched from the watch room itself and not from here:\n\n    ./companion verify {job}.ndjson --proof {job}.proof.json --room KEYFILE";
}
