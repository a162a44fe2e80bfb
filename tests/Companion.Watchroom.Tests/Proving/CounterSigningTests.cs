using System.IO.Compression;
using System.Net;
using System.Security.Cryptography;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Journal.Heads;
using Companion.Journal.Merkle;
using Companion.Journal.Proof;
using Companion.Watchroom.Proving;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Proving;

/// <summary>Heads that arrive from tablets, and what a team lead is handed.</summary>
public sealed class CounterSigningTests
{
    [Fact]
    public async Task A_team_lead_is_handed_a_job_that_verifies_offline_with_its_proof()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var records = await SignedRecord.OfAsync(tablet.Tablet, jobs: ["job-1", "job-2"]);
        await SendAsync(tablet, records);
        await UntilSignedAsync(rig, 4);

        using var lead = await Visitor.SignedInAsync(rig);
        using var folder = new Unpacked(await BytesAsync(lead, $"/jobs/{tablet.Device}/job-2/export"));
        Assert.DoesNotContain("Ines", await File.ReadAllTextAsync(folder.Of("job-2.ndjson")));
        var key = P256.PublicKeyIn(await lead.ReadAsync("/proof/key"));
        var proof = ProofDocument.Parse(await File.ReadAllBytesAsync(folder.Of("job-2.proof.json")));
        var report = JournalVerifier.Verify(folder.Of("job-2.ndjson"), proof: new OutsideProof(proof, key));
        Assert.True(report.IsSound, string.Join("\n", report.Lines()));
        Assert.Contains(report.Checked, line => line.Contains("counter-signed by the watch room", StringComparison.Ordinal) && line.EndsWith("as number 4 of 4", StringComparison.Ordinal));
        Assert.Contains("--room KEYFILE", await File.ReadAllTextAsync(folder.Of("READ-ME.txt")));
        Assert.Contains(rig.Audit(), line => line.StartsWith("tree.signed", StringComparison.Ordinal) && line.Contains(proof.TreeHead.Root, StringComparison.Ordinal));
        var looked = Assert.Single(rig.App.Journal.Read("audit"), entry => entry.Type == "job.looked");
        Assert.Equal("Runa Holt", looked.Sealed["person"].Text);
        Assert.Contains("\"job\":\"job-2\"", looked.Data);
    }

    [Fact]
    public async Task Only_a_team_lead_is_handed_a_job_and_only_of_a_known_tablet()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        using var technician = await Visitor.SignedInAsync(rig, "Maren Oake");
        Assert.Equal(HttpStatusCode.Forbidden, (await technician.GetAsync($"/jobs/{tablet.Device}/job-1/export")).StatusCode);
        using var lead = await Visitor.SignedInAsync(rig);
        Assert.Equal(HttpStatusCode.NotFound, (await lead.GetAsync("/jobs/tablet-0/job-1/export")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await lead.GetAsync($"/jobs/{tablet.Device}/tablet/export")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await lead.GetAsync($"/jobs/{tablet.Device}/job-1/export")).StatusCode);
    }

    [Fact]
    public async Task A_head_sent_again_is_no_second_leaf_and_a_restart_goes_on_with_the_same_tree()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var records = await SignedRecord.OfAsync(tablet.Tablet, jobs: ["job-1", "job-2"]);
        await SendAsync(tablet, records[0] with { TabletLines = records[0].TabletLines[..3] });
        await UntilSignedAsync(rig, 2);
        var before = (await rig.Services.CounterSigner.HeadAsync())!;
        await rig.RestartAsync();
        using var again = new FakeTablet(rig, "van 12") { Tablet = tablet.Tablet, Key = tablet.Key, Device = tablet.Device, Counter = 1_000_000 };
        await SendAsync(again, records);
        await SendAsync(again, records);
        await UntilSignedAsync(rig, 4);

        using var lead = await Visitor.SignedInAsync(rig);
        var growth = JsonSerializer.Deserialize<TreeGrowth>(await lead.ReadAsync("/proof/growth?first=2"), UplinkFormat.Json)!;
        Assert.Equal(before.Root, growth.FirstRoot);
        Assert.True(MerkleProof.Extends(
            2, Convert.FromHexString(before.Root), 4, Convert.FromHexString(growth.Second.Root), [.. growth.Path.Select(Convert.FromHexString)]));
        Assert.Equal(HttpStatusCode.NotFound, (await lead.GetAsync("/proof/growth?first=5")).StatusCode);
    }

    [Fact]
    public async Task What_arrived_while_nothing_was_counter_signed_is_found_at_the_start()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, await SignedRecord.OfAsync(tablet.Tablet, jobs: ["job-1"]));
        await UntilSignedAsync(rig, 2);
        await rig.App.DisposeAsync();

        // As a kill leaves it that came before the first head was written.
        File.Delete(Path.Combine(rig.Store, "proof", "heads.tree"));
        await rig.StartAgainAsync(0);
        await UntilSignedAsync(rig, 2);
    }

    [Fact]
    public async Task A_head_whose_signature_does_not_fit_is_refused_and_written_down()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, await SignedRecord.OfAsync(tablet.Tablet, new Forger(), jobs: ["job-1"]));
        await WatchroomRig.UntilAsync(() => rig.Audit().Any(line => line.Contains("its signature does not fit", StringComparison.Ordinal)), "the refusal is written");
        Assert.Null(await rig.Services.CounterSigner.HeadAsync());
        Assert.Null(rig.Services.CounterSigner.Fault);
    }

    [Fact]
    public async Task A_tree_without_its_key_is_not_gone_on_with_and_the_board_says_so()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(tablet, await SignedRecord.OfAsync(tablet.Tablet, jobs: ["job-1"]));
        await UntilSignedAsync(rig, 2);
        await rig.App.DisposeAsync();
        File.Delete(Path.Combine(rig.Store, "proof", "tree.key"));
        await rig.StartAgainAsync(0);
        await WatchroomRig.UntilAsync(() => rig.Services.Faults().Any(fault => fault.StartsWith("Nothing is counter-signed", StringComparison.Ordinal)), "the board says so");
    }

    private static Task UntilSignedAsync(WatchroomRig rig, long size) => WatchroomRig.UntilAsync(
        () => rig.Audit().Any(line => line.StartsWith("tree.signed", StringComparison.Ordinal) && line.Contains($"\"size\":{size}", StringComparison.Ordinal)), $"{size} heads are counter-signed");

    private static async Task SendAsync(FakeTablet tablet, params SignedRecord[] records)
    {
        foreach (var lines in records.Select(record => record.JobLines).Append(records[^1].TabletLines))
        {
            using var answer = await tablet.SendSignedAsync(UplinkFormat.BatchPath, Records.Body(lines));
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }
    }

    private static async Task<byte[]> BytesAsync(Visitor visitor, string path)
    {
        using var answer = await visitor.GetAsync(path);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return await answer.Content.ReadAsByteArrayAsync();
    }

    private sealed class Unpacked : IDisposable
    {
        private readonly string folder = Directory.CreateTempSubdirectory("companion-bundle-").FullName;

        public Unpacked(byte[] zip) => ZipFile.ExtractToDirectory(new MemoryStream(zip), folder);

        public string Of(string name) => Path.Combine(folder, name);

        public void Dispose() => Directory.Delete(folder, recursive: true);
    }

    private sealed class Forger : IHeadSigner
    {
        public string PublicKey { get; } = Convert.ToBase64String(ECDsa.Create(ECCurve.NamedCurves.nistP256).ExportSubjectPublicKeyInfo());

        public byte[] Sign(ReadOnlySpan<byte> statement) => new byte[64];
    }
}
