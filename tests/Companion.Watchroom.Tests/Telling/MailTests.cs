using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Companion.Contracts.Uplink;
using Companion.TestKit;
using Companion.Uplink;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Tests.Support;

namespace Companion.Watchroom.Tests.Telling;

/// <summary>E-mail over TLS and with sign-in, against a real mail server on this machine.</summary>
public sealed class MailTests : IDisposable
{
    private const string Targets = """[{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0}]""";
    private const string Password = "a mail server's password";
    private readonly string folder = Directory.CreateTempSubdirectory("companion-mail-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // SSL_CERT_FILE is OpenSSL's own way to name whom a process trusts: the watch room is left as it is.
    [Fact]
    public async Task A_mail_goes_over_TLS_of_both_kinds_with_sign_in_to_a_server_that_the_machine_trusts()
    {
        using var certificate = Certificate("localhost");
        await using var implicitly = new MailReceiver(certificate, isTlsFromTheFirstByte: true, Password);
        await using var starting = new MailReceiver(certificate, password: Password);
        var store = Path.Combine(folder, "room");
        Directory.CreateDirectory(store);
        Write(store, "password", Password);
        Write(store, RingRound.MailFile, implicitly.ConfigWith("tls", "password"));
        Write(store, RingRound.TargetsFile, Targets);
        Write(folder, "trusted.pem", certificate.ExportCertificatePem());
        using var room = new WatchroomProcess(typeof(WatchroomApp).Assembly.Location, store) { Environment = { ["SSL_CERT_FILE"] = Path.Combine(folder, "trusted.pem") } };
        await room.StartAsync();

        await using (await CallAsync(room, "job-1"))
        {
            await WatchroomRig.UntilAsync(() => !implicitly.Messages.IsEmpty, "the first mail is taken");
            Write(store, RingRound.MailFile, starting.ConfigWith("startTls", "password"));
            await using (await CallAsync(room, "job-2"))
            {
                await WatchroomRig.UntilAsync(() => !starting.Messages.IsEmpty, "the second mail is taken");
            }
        }

        Assert.Contains("Job: job-1", Assert.Single(implicitly.Messages).TextBody!, StringComparison.Ordinal);
        Assert.Contains("Job: job-2", Assert.Single(starting.Messages).TextBody!, StringComparison.Ordinal);
        Assert.Equal([true, true], implicitly.Encrypted.Concat(starting.Encrypted));
    }

    [Theory]
    [InlineData("tls")]
    [InlineData("startTls")]
    public async Task A_certificate_that_the_machine_does_not_trust_is_told_on_the_board_and_tried_again(string security)
    {
        using var certificate = Certificate("localhost");
        await using var mail = new MailReceiver(certificate, security == "tls");
        await using var rig = await WatchroomRig.StartAsync((RingRound.MailFile, mail.ConfigWith(security)), (RingRound.TargetsFile, Targets));
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await FailedAsync(rig, attempts: 2, "certificate");

        Assert.Empty(mail.Messages);
        using var visitor = await Visitor.SignedInAsync(rig);
        Assert.Matches("desk by e-mail: (not told after|being told, attempt)", await visitor.ReadAsync("/board"));
    }

    // Somebody between who takes STARTTLS out of the greeting must not get the text.
    [Fact]
    public async Task A_server_that_offers_no_TLS_gets_nothing()
    {
        await using var mail = new MailReceiver();
        await using var rig = await WatchroomRig.StartAsync((RingRound.MailFile, mail.ConfigWith("startTls")), (RingRound.TargetsFile, Targets));
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await FailedAsync(rig, attempts: 1, "STARTTLS");

        Assert.Empty(mail.Messages);
    }

    [Fact]
    public async Task A_wrong_password_is_told_on_the_board_and_tried_again_until_the_right_one_is_in_the_file()
    {
        await using var mail = new MailReceiver(password: Password);
        await using var rig = await WatchroomRig.StartAsync(("password", "not this one"), (RingRound.MailFile, mail.ConfigWith("none", "password")), (RingRound.TargetsFile, Targets));
        using var tablet = await rig.PairAsync();

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await FailedAsync(rig, attempts: 2, "The mail server did not take it: ");
        Assert.Empty(mail.Messages);

        Write(rig.Store, "password", Password);
        await WatchroomRig.UntilAsync(() => State(rig) is { Step: TellingStep.Sent }, "it is told");
        Assert.Single(mail.Messages);
    }

    [Fact]
    public async Task A_password_file_that_is_not_there_is_told_at_the_start()
    {
        await using var mail = new MailReceiver(password: Password);
        await using var rig = await WatchroomRig.StartAsync((RingRound.MailFile, mail.ConfigWith("none", "password")), (RingRound.TargetsFile, Targets));

        Assert.Contains("ringround.json: 'desk' is not told: the mail server's password is not in password. Write it.", rig.Services.Faults());
    }

    private static void Write(string store, string name, string text) => File.WriteAllText(Path.Combine(store, name), text);

    private static TellingState? State(WatchroomRig rig) =>
        rig.App.Keeper.View.Alerts is [var alert] && rig.Services.Teller.States(alert.Id) is [var state] ? state : null;

    private static Task FailedAsync(WatchroomRig rig, int attempts, string reason) => WatchroomRig.UntilAsync(
        () => State(rig) is { Step: TellingStep.Failed } state && state.Attempts >= attempts && state.Reason.Contains(reason, StringComparison.Ordinal),
        $"it failed {attempts} times for '{reason}', and not: {State(rig)}");

    /// <summary>A certificate that nobody knows, with its key.</summary>
    private static X509Certificate2 Certificate(string name)
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest($"CN={name}", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName(name);
        request.CertificateExtensions.Add(names.Build());
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(certificateAuthority: true, false, 0, true));
        return request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(1));
    }

    /// <summary>A tablet that calls for help from a job until it is let go of.</summary>
    private async Task<WatchroomUplink> CallAsync(WatchroomProcess room, string job)
    {
        var parts = new UplinkParts(
            Path.Combine(folder, job), new NoJournal(), () => FakeTablet.Calling(CallKind.Help, job), TimeProvider.System, Random.Shared.NextDouble)
        {
            BeatEvery = TimeSpan.FromMilliseconds(200),
        };
        Assert.Null(await Pairing.PairAsync(parts, room.Address, room.Fingerprint, await room.PairCodeAsync(), Guid.NewGuid(), job));
        return WatchroomUplink.Start(parts);
    }
}
