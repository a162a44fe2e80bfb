using System.Text.Json;
using Companion.Journal.Merkle;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;
using Json.Schema;

namespace Companion.Journal.Tests.Proving;

/// <summary>An exported job with a watch room's proof, checked without any network.</summary>
public sealed class OutsideProofTests
{
    [Fact]
    public async Task A_job_with_its_proof_is_sound_and_the_report_says_what_was_checked()
    {
        var job = await ProvedJob.Make();
        var report = ProvedJob.Verify(job.Lines(), job.Document, job.Document.RoomKey);
        Assert.True(report.IsSound, string.Join("\n", report.Lines()));
        Assert.Contains(report.Checked, line => line.StartsWith("job-1 is whole from entry 1 (2026-11-25 18:04:05 +01:00) to entry 4", StringComparison.Ordinal));
        Assert.Contains(report.Checked, line => line.StartsWith("job-1 up to entry 4 is signed by the tablet's key", StringComparison.Ordinal));
        Assert.Contains(report.Checked, line => line.EndsWith("at 2026-11-25T17:04:05.6780000Z as number 6 of 7", StringComparison.Ordinal));
        Assert.Contains(report.Notes, note => note.Contains("ask the watch room for a newer one", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Without_a_proof_the_report_says_that_nobody_outside_vouches()
    {
        var report = ProvedJob.Verify((await ProvedJob.Make()).Lines(), null);
        Assert.True(report.IsSound);
        Assert.Contains(report.Notes, note => note.Contains("nobody outside the tablet vouches", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Without_the_key_from_elsewhere_the_report_asks_to_compare_it()
    {
        var job = await ProvedJob.Make();
        var report = ProvedJob.Verify(job.Lines(), job.Document);
        Assert.True(report.IsSound);
        Assert.Contains(report.Notes, note => note.StartsWith("the watch room's key came with the proof: compare", StringComparison.Ordinal));
    }

    // Without the signed head a one-job export that is cut at its end is a whole, shorter job.
    [Fact]
    public async Task An_export_cut_after_any_entry_is_noticed_with_the_proof()
    {
        var job = await ProvedJob.Make();
        var lines = job.Lines();
        for (var kept = 1; kept < lines.Length; kept++)
        {
            Assert.True(ProvedJob.Verify(lines[..kept], null).IsSound);
            var report = ProvedJob.Verify(lines[..kept], job.Document);
            Assert.Equal(1, report.ExitCode);
            Assert.Contains(report.Problems, problem => problem == $"the export was cut: the tablet signed 4 entries of job-1, only {kept} are here");
        }
    }

    [Fact]
    public async Task A_chain_made_anew_as_a_whole_is_noticed_with_the_proof()
    {
        var job = await ProvedJob.Make();
        var lines = await OtherStory();
        Assert.True(ProvedJob.Verify(lines, null).IsSound);
        var report = ProvedJob.Verify(lines, job.Document);
        Assert.Equal(("job-1", 4L), (report.FirstBad!.Chain, report.FirstBad.Sequence));
        Assert.DoesNotContain(report.Checked, line => line.Contains("counter-signed", StringComparison.Ordinal));
    }

    [Fact]
    public async Task An_altered_entry_is_named_whatever_the_proof_says()
    {
        var job = await ProvedJob.Make();
        var lines = job.Lines();
        lines[2] = lines[2].Replace("\"why\":\"tick\"", "\"why\":\"step\"", StringComparison.Ordinal);
        var report = ProvedJob.Verify(lines, job.Document);
        Assert.Equal(("job-1", 3L), (report.FirstBad!.Chain, report.FirstBad.Sequence));
    }

    [Fact]
    public async Task What_came_after_the_signed_head_is_told_apart()
    {
        var job = await ProvedJob.Make(last: false);
        var report = ProvedJob.Verify(job.Lines(), job.Document);
        Assert.True(report.IsSound, string.Join("\n", report.Lines()));
        Assert.Contains(report.Notes, note => note.Contains("for entries 2 to 4 nobody outside the tablet vouches yet", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_proof_changed_in_any_part_is_refused()
    {
        var job = await ProvedJob.Make();
        var (lines, proof, tree) = (job.Lines(), job.Document, job.Document.TreeHead);
        using var other = ProvedJob.RoomKey();
        byte[][] path = [.. proof.Path.Select(step => step.ToArray())];
        path[0][5] ^= 1;
        ProofDocument[] changed =
        [
            proof with { LeafIndex = proof.LeafIndex - 1 },
            proof with { Path = path },
            proof with { Path = [.. proof.Path.Skip(1)] },
            proof with { TabletKey = other.PublicKey },
            proof with { RoomKey = other.PublicKey },
            proof with { TreeHead = tree with { Size = tree.Size + 1 } },
            proof with { TreeHead = tree with { Time = tree.Time.Replace("2026", "2025", StringComparison.Ordinal) } },
            proof with { TreeHead = tree with { Root = Convert.ToHexStringLower(MerkleHash.Empty) } },
            proof with { TreeHead = tree with { Signature = Convert.ToBase64String(new byte[64]) } },
        ];
        Assert.All(changed, document => Assert.Equal(1, ProvedJob.Verify(lines, document).ExitCode));
    }

    // A tree that was altered later is signed again by the same key: the leaf is not in it.
    [Fact]
    public async Task A_tree_that_was_altered_later_does_not_hold_the_head_any_more()
    {
        var job = await ProvedJob.Make();
        using var key = ProvedJob.RoomKey();
        var tree = new MerkleTree();
        for (var n = 0; n < 7; n++)
        {
            tree.Add(MerkleHash.Leaf([(byte)n, 1]));
        }

        var altered = job.Document with { RoomKey = key.PublicKey, TreeHead = SignedTreeHead.Sign(key, tree.Size, tree.Root(), FixedClock.Start), Path = tree.InclusionPath(5, 7) };
        var report = ProvedJob.Verify(job.Lines(), altered);
        Assert.Contains("the signed head is not in the watch room's tree at the place that the proof names", report.Problems);
    }

    [Fact]
    public async Task The_key_of_another_watch_room_is_refused()
    {
        var job = await ProvedJob.Make();
        using var other = ProvedJob.RoomKey();
        var report = ProvedJob.Verify(job.Lines(), job.Document, other.PublicKey);
        Assert.Equal(1, report.ExitCode);
        Assert.Contains(report.Problems, problem => problem.StartsWith("the proof was signed by another watch room", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_proof_of_another_job_or_tablet_is_refused()
    {
        var job = await ProvedJob.Make();
        using var store = new MemoryStream();
        JournalExport.Write(Stores.Folder, store, "tablet", disk: job.Disk);
        var tabletOnly = System.Text.Encoding.UTF8.GetString(store.ToArray()).TrimEnd('\n').Split('\n');
        Assert.Contains("the proof is of the job job-1, which is not in this file", ProvedJob.Verify(tabletOnly, job.Document).Problems);
        Assert.Contains("the proof is of another tablet than the export", ProvedJob.Verify(await OtherStory(Guid.NewGuid()), job.Document).Problems);
    }

    [Fact]
    public async Task The_document_fits_its_schema_and_is_read_back_as_it_was()
    {
        var proof = (await ProvedJob.Make()).Document;
        var json = proof.ToJson();
        using var document = JsonDocument.Parse(json);
        Assert.True(JsonSchema.FromText(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "proof.schema.json"))).Evaluate(document.RootElement).IsValid);
        var read = ProofDocument.Parse(json);
        Assert.Equal((proof.Head.Hash, proof.TabletKey, proof.LeafIndex, proof.TreeHead, proof.RoomKey), (read.Head.Hash, read.TabletKey, read.LeafIndex, read.TreeHead, read.RoomKey));
        Assert.Equal(proof.Path, read.Path);
    }

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("""{"format":"urn:companion:proof:2"}""")]
    [InlineData("""{"format":"urn:companion:proof:1"}""")]
    [InlineData("""{"format":"urn:companion:proof:1","treehead":5}""")]
    public void What_is_no_proof_is_refused_in_words(string text) =>
        Assert.Throws<FormatException>(() => ProofDocument.Parse(System.Text.Encoding.UTF8.GetBytes(text)));

    /// <summary>A sound job of as many entries, told differently.</summary>
    private static async Task<string[]> OtherStory(Guid? tablet = null)
    {
        var disk = new SimulatedDisk();
        await using (var store = await JournalStore.OpenAsync(
            Stores.Folder, new StoreOptions(new FixedClock()) { Kind = Contracts.StoreKind.Rehearsal, TabletId = tablet ?? Stores.Tablet, Disk = disk }))
        {
            await store.AppendAsync([Drafts.Of("job-1", "job.opened")]);
            await store.AppendAsync([Drafts.Of("job-1", "clock.anchored"), Drafts.Of("job-1", "clock.anchored"), Drafts.Of("job-1", "job.closed")]);
        }

        using var output = new MemoryStream();
        JournalExport.Write(Stores.Folder, output, "job-1", disk: disk);
        return System.Text.Encoding.UTF8.GetString(output.ToArray()).TrimEnd('\n').Split('\n');
    }
}
