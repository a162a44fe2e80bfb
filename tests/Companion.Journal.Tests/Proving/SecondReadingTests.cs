using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;
using Companion.TestKit;

namespace Companion.Journal.Tests.Proving;

/// <summary>The independent checker, which shares no code with the product, reads the same proofs by the RFC's recursive definition.</summary>
public sealed class SecondReadingTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(5)]
    [InlineData(62)]
    public async Task The_independent_checker_finds_an_honest_proof_whole(int others)
    {
        var job = await ProvedJob.Make(others);
        Assert.Empty(await ProofFaults(job.Lines(), job.Document));
    }

    [Fact]
    public async Task The_independent_checker_objects_to_what_the_product_objects_to()
    {
        var job = await ProvedJob.Make();
        var (lines, proof, tree) = (job.Lines(), job.Document, job.Document.TreeHead);
        byte[][] path = [.. proof.Path.Select(step => step.ToArray())];
        path[^1][5] ^= 1;
        await Expect("its end is missing", lines[..^1], proof);
        await Expect("not in the watch room's tree", lines, proof with { LeafIndex = proof.LeafIndex - 1 });
        await Expect("not in the watch room's tree", lines, proof with { Path = path });
        await Expect("not in the watch room's tree", lines, proof with { Path = [.. proof.Path, path[0]] });
        await Expect("the watch room's signature does not fit", lines, proof with { TreeHead = tree with { Size = tree.Size + 1 } });
        await Expect("the tablet's signature does not fit", lines, proof with { TabletKey = proof.RoomKey });
    }

    private static async Task Expect(string words, string[] lines, ProofDocument proof)
    {
        Assert.False(ProvedJob.Verify(lines, proof).IsSound);
        Assert.Contains(await ProofFaults(lines, proof), fault => fault.Contains(words, StringComparison.Ordinal));
    }

    /// <summary>The small job of these tests keeps no rule of a real one: only what is said of the proof counts here.</summary>
    private static async Task<IReadOnlyList<string>> ProofFaults(string[] lines, ProofDocument proof)
    {
        using var folder = new TemporaryFolder();
        var (export, document) = (Path.Combine(folder.Path, "job.ndjson"), Path.Combine(folder.Path, "job.proof.json"));
        await File.WriteAllTextAsync(export, string.Concat(lines.Select(line => line + "\n")));
        await File.WriteAllBytesAsync(document, proof.ToJson());
        var report = await IndependentChecker.CheckAsync(export, "--proof", document);
        Assert.NotEqual(2, report.Exit);
        return [.. report.Faults.Where(fault => fault.Contains(": proof: ", StringComparison.Ordinal))];
    }
}
