using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Companion.Watchroom.Access;
using Companion.Watchroom.Cli;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Access;

/// <summary>The verbs beside a running service, and the certificate.</summary>
public sealed class CommandLineTests
{
    [Fact]
    public async Task The_verbs_work_while_the_service_runs_and_stand_in_its_audit_chain()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var code = (await RunAsync(rig, "pair-code")).Trim();
        using var tablet = new FakeTablet(rig, "van 12");
        await tablet.PairAsync(code);
        await tablet.BeatAsync(FakeTablet.Beat());

        Assert.Contains("van 12", await RunAsync(rig, "devices"), StringComparison.Ordinal);
        await RunAsync(rig, "revoke", tablet.Device);
        await Web.UplinkTests.RefusedAsync(rig, 403, "revoked", tablet.SendSignedAsync("/uplink/beat", FakeTablet.Bytes(FakeTablet.Beat())));

        var said = await RunAsync(rig, "add-person", "Ilse Marr", "teamlead");
        using var visitor = new Visitor(rig);
        using var answer = await visitor.SignInAsync("Ilse Marr", said.Trim().Split(' ')[^1]);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        foreach (var act in new[] { "paircode.made", "device.revoked", "person.set" })
        {
            await WatchroomRig.UntilAsync(() => rig.Audit().Any(entry => entry.StartsWith(act, StringComparison.Ordinal)), $"{act} stands in the audit chain");
        }
    }

    [Theory]
    [InlineData("add-person", "Ilse Marr", "captain")]
    [InlineData("add-person", "Ilse Marr", "1")]
    [InlineData("revoke", "tablet-nobody")]
    [InlineData("dance")]
    public async Task A_wrong_command_line_is_refused_with_what_to_do(params string[] words)
    {
        var store = Directory.CreateTempSubdirectory("companion-verbs-").FullName;
        var errors = new StringWriter();

        Assert.Equal(2, await Verbs.RunAsync([.. words, "--store", store], TextWriter.Null, errors, TextReader.Null));
        Assert.NotEmpty(errors.ToString().Trim());
        Directory.Delete(store, recursive: true);
    }

    [Fact]
    public async Task The_certificate_stays_the_same_over_restarts_and_only_its_owner_may_read_it()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var before = rig.App.Fingerprint;
        await rig.RestartAsync();
        await RunAsync(rig, "add-person", "Ilse Marr", "teamlead");

        Assert.Equal(before, rig.App.Fingerprint);
        foreach (var name in new[] { "certificate.pem", "people.json" })
        {
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Path.Combine(rig.Store, name)));
        }
    }

    [Fact]
    public void A_certificate_can_be_brought_as_pfx_or_pem_and_another_file_is_refused_in_plain_words()
    {
        var folder = Directory.CreateTempSubdirectory("companion-certificate-").FullName;
        using var own = ServerCertificate.Load(folder, null, TimeProvider.System.GetUtcNow());
        var pfx = Path.Combine(folder, "brought.pfx");
        File.WriteAllBytes(pfx, own.Export(X509ContentType.Pfx));

        using var brought = ServerCertificate.Load(folder, pfx, TimeProvider.System.GetUtcNow());
        using var pem = ServerCertificate.Load(folder, Path.Combine(folder, "certificate.pem"), TimeProvider.System.GetUtcNow());

        Assert.Equal(own.GetCertHashString(HashAlgorithmName.SHA256), brought.GetCertHashString(HashAlgorithmName.SHA256));
        Assert.True(pem.MatchesHostname("localhost") && pem.MatchesHostname("127.0.0.1") && pem.MatchesHostname(Environment.MachineName));
        File.WriteAllText(pfx, "no certificate");
        Assert.Contains("brought.pfx", Assert.Throws<IOException>(() => ServerCertificate.Load(folder, pfx, TimeProvider.System.GetUtcNow())).Message, StringComparison.Ordinal);
        Directory.Delete(folder, recursive: true);
    }

    private static async Task<string> RunAsync(WatchroomRig rig, params string[] words)
    {
        var output = new StringWriter();
        Assert.Equal(0, await Verbs.RunAsync([.. words, "--store", rig.Store], output, Console.Error, TextReader.Null));
        return output.ToString();
    }
}
