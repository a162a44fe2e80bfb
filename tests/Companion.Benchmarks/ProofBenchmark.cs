using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Merkle;
using Companion.Journal.Proof;

namespace Companion.Benchmarks;

/// <summary>
/// How long an export of many entries takes to verify, beside SHA-256 over the very same bytes in the same run: the floor of any check of them.
/// Then what a leaf, a proof and its check cost in trees of more and more leaves.
/// </summary>
internal static class ProofBenchmark
{
    private const int DefaultEntries = 1_000_000;
    private const int Proofs = 20_000;
    private const int BufferLength = 1 << 16;
    private static readonly Guid Tablet = Guid.Parse("5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21");
    private static readonly int[] Sizes = [1000, 10_000, 100_000, 1_000_000];

    /// <summary>Runs; the first argument is the number of entries, the second a folder for the export.</summary>
    public static object Run(string[] args)
    {
        var entries = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : DefaultEntries;
        var path = Path.Combine(args.Length > 1 ? args[1] : Path.GetTempPath(), $"companion-bench-proof-{Environment.ProcessId}.ndjson");
        try
        {
            var bytes = Write(path, entries);
            var verifying = Stopwatch.StartNew();
            var report = JournalVerifier.Verify(path);
            var verified = verifying.Elapsed;
            var hashed = Hash(path);
            return new
            {
                area = "proof",
                verify = new { entries = report.Entries, megabytes = bytes >> 20, seconds = Math.Round(verified.TotalSeconds, 2), sound = report.IsSound },
                sha256 = new { seconds = Math.Round(hashed.TotalSeconds, 3) },
                ratio = Math.Round(verified / hashed, 1),
                trees = Sizes.Select(Tree).ToList(),
            };
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static long Write(string path, int entries)
    {
        using var file = new BufferedStream(File.Create(path), 1 << 20);
        var previous = ChainHash.None;
        for (var n = 0; n < entries; n++)
        {
            var entry = EntryCodec.Encode(SteadyClock.Draft(n), new EntryPlace(Tablet, Rehearsal: true, n + 1, previous));
            file.Write(entry.Bytes.Span);
            file.WriteByte((byte)'\n');
            previous = entry.Hash;
        }

        return file.Length;
    }

    private static TimeSpan Hash(string path)
    {
        var watch = Stopwatch.StartNew();
        using var file = new LocalDisk().OpenRead(path);
        using var sha = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var buffer = new byte[BufferLength];
        for (var offset = 0L; offset < file.Length; offset += buffer.Length)
        {
            sha.AppendData(buffer, 0, file.Read(offset, buffer));
        }

        _ = sha.GetHashAndReset();
        return watch.Elapsed;
    }

    private static object Tree(int size)
    {
        var leaves = Enumerable.Range(0, size).Select(n => MerkleHash.Leaf(Encoding.ASCII.GetBytes(n.ToString(CultureInfo.InvariantCulture)))).ToArray();
        var tree = new MerkleTree();
        var adding = Stopwatch.StartNew();
        foreach (var leaf in leaves)
        {
            tree.Add(leaf);
        }

        var added = adding.Elapsed;

        // Odd sizes have paths that must be put together; these are the sizes that a tree is most of the time.
        var (seen, root) = (size - 1L, tree.Root(size - 1));
        var places = Enumerable.Range(0, Proofs).Select(n => n * 7919L % seen).ToArray();
        var proving = Stopwatch.StartNew();
        var paths = places.Select(place => tree.InclusionPath(place, seen)).ToArray();
        var proved = proving.Elapsed;
        var checking = Stopwatch.StartNew();
        var held = places.Zip(paths).Count(pair => MerkleProof.Includes(pair.First, seen, leaves[pair.First], pair.Second, root));
        return new
        {
            leaves = size,
            addus = Math.Round(added.TotalMicroseconds / size, 2),
            proveus = Math.Round(proved.TotalMicroseconds / Proofs, 2),
            checkus = Math.Round(checking.Elapsed.TotalMicroseconds / Proofs, 2),
            steps = paths.Max(path => path.Count),
            allheld = held == Proofs,
        };
    }
}
