using System.Globalization;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Journal.Proof;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace Companion.Uplink.Tests.Support;

/// <summary>What can go wrong with one request.</summary>
internal enum Fault
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>The request never arrives.</summary>
    LostBefore,

    /// <summary>It is taken, and the answer never arrives.</summary>
    LostAfter,

    /// <summary>It is taken twice.</summary>
    Doubled,

    /// <summary>A sign-in page answers with a friendly status.</summary>
    Portal,

    /// <summary>The answer is cut off.</summary>
    Truncated,

    /// <summary>It is taken, and the answer comes after everybody gave up.</summary>
    Slow,

    /// <summary>The other side is broken.</summary>
    Broken,

    /// <summary>The answer names a head that is not ours.</summary>
    WrongHead,
}

/// <summary>A watch room on real HTTPS that checks every signature, counter and link, and does with each request what a plan says.</summary>
internal sealed class FakeWatchroom : IAsyncDisposable
{
    private readonly Lock _one = new();
    private readonly Dictionary<string, long> _counters = [];
    private readonly Dictionary<string, List<byte[]>> _held = [];
    private readonly List<Beat> _beats = [];
    private readonly WebApplication _app;
    private readonly X509Certificate2 _certificate = Certificate();
    private ECDsa? _key;

    private FakeWatchroom()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseKestrelHttpsConfiguration();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, 0, listen => listen.UseHttps(_certificate)));
        _app = builder.Build();
        _app.MapPost(UplinkFormat.PairPath, PairAsync);
        _app.MapPost(UplinkFormat.BatchPath, context => FaultyAsync(context, BatchAsync));
        _app.MapPost(UplinkFormat.BeatPath, context => FaultyAsync(context, BeatAsync));
    }

    /// <summary>What goes wrong next: asked once for every batch and beat.</summary>
    public Func<string, Fault> Plan { get; set; } = _ => Fault.None;

    /// <summary>The lines that are held of a chain.</summary>
    public IReadOnlyList<byte[]> Held(string chain)
    {
        lock (_one)
        {
            return _held.TryGetValue(chain, out var lines) ? [.. lines] : [];
        }
    }

    /// <summary>Chains that are not taken, and why.</summary>
    public Dictionary<string, string> Forked { get; } = [];

    /// <summary>A chain that is answered with this status and a reason.</summary>
    public (string Chain, int Status)? NotTaken { get; set; }

    /// <summary>A chain of which entries are missing, whatever is sent.</summary>
    public string? AlwaysGap { get; set; }

    /// <summary>How often that was said.</summary>
    public int GapsAnswered { get; private set; }

    /// <summary>Larger bodies do not get through.</summary>
    public int LargestPassed { get; set; } = int.MaxValue;

    /// <summary>The beats that arrived.</summary>
    public IReadOnlyList<Beat> Beats
    {
        get
        {
            lock (_one)
            {
                return [.. _beats];
            }
        }
    }

    /// <summary>What is answered to a beat.</summary>
    public BeatAnswer Kept { get; set; } = new(0, []);

    /// <summary>What was wrong with a request: empty, or a defect of the uplink.</summary>
    public List<string> Wrong { get; } = [];

    public Uri Address => new(_app.Urls.First());

    public string Fingerprint => Convert.ToHexString(SHA256.HashData(_certificate.RawData));

    public static async Task<FakeWatchroom> StartAsync()
    {
        var room = new FakeWatchroom();
        await room._app.StartAsync();
        return room;
    }

    /// <summary>Loses what it had acknowledged, from a sequence on.</summary>
    public void Forget(string chain, int keep)
    {
        lock (_one)
        {
            _held[chain].RemoveRange(keep, _held[chain].Count - keep);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync(new CancellationToken(true));
        await _app.DisposeAsync();
        _certificate.Dispose();
        _key?.Dispose();
    }

    private static X509Certificate2 Certificate()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=watch room of a test", key, HashAlgorithmName.SHA256);
        using var made = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(30));
        return X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pkcs12), null);
    }

    private async Task PairAsync(HttpContext context)
    {
        var asked = await context.Request.ReadFromJsonAsync<PairingRequest>(UplinkFormat.Json);
        if (asked!.Code != "12345678" || context.Request.Headers[UplinkFormat.VersionHeader] != UplinkFormat.Version)
        {
            context.Response.StatusCode = 403;
            await context.Response.WriteAsJsonAsync(new Refused("The code is wrong or was used. Ask for a new one."), UplinkFormat.Json);
            return;
        }

        _key = ECDsa.Create();
        _key.ImportSubjectPublicKeyInfo(Convert.FromBase64String(asked.PublicKey), out _);
        await context.Response.WriteAsJsonAsync(new PairingAnswer("van-12"), UplinkFormat.Json);
    }

    private async Task FaultyAsync(HttpContext context, Func<byte[], (int Status, object Answer)> take)
    {
        var buffer = new MemoryStream();
        await context.Request.Body.CopyToAsync(buffer);
        var fault = Plan(context.Request.Path);
        if (fault is Fault.LostBefore || buffer.Length > LargestPassed)
        {
            context.Abort();
            return;
        }

        if (fault is Fault.Broken or Fault.Portal)
        {
            context.Response.StatusCode = fault == Fault.Broken ? 500 : 200;
            context.Response.ContentType = "text/html";
            await context.Response.WriteAsync("<html>Sign in to use this network.</html>");
            return;
        }

        (int Status, object Answer) answer;
        lock (_one)
        {
            answer = Check(context, buffer.ToArray()) ?? take(buffer.ToArray());
            answer = fault == Fault.Doubled ? take(buffer.ToArray()) : answer;
        }

        if (fault == Fault.Slow)
        {
            await Task.Delay(TimeSpan.FromSeconds(3), context.RequestAborted);
        }

        if (fault is Fault.LostAfter or Fault.Slow)
        {
            context.Abort();
            return;
        }

        var text = JsonSerializer.Serialize(fault == Fault.WrongHead && answer.Answer is BatchAnswer held ? held with { Head = new string('0', 64) } : answer.Answer, UplinkFormat.Json);
        context.Response.StatusCode = answer.Status;
        context.Response.ContentType = "application/json";
        await context.Response.WriteAsync(fault == Fault.Truncated ? text[..(text.Length / 2)] : text);
    }

    private (int Status, object Answer)? Check(HttpContext context, byte[] body)
    {
        var (path, device) = (context.Request.Path.Value!, context.Request.Headers[UplinkFormat.DeviceHeader].ToString());
        var counter = context.Request.Headers[UplinkFormat.CounterHeader].ToString();
        var signed = UplinkFormat.SignedText("POST", path, device, counter, Convert.ToHexStringLower(SHA256.HashData(body)));
        var signature = Convert.FromBase64String(context.Request.Headers[UplinkFormat.SignatureHeader].ToString());
        if (device != "van-12" || context.Request.Headers[UplinkFormat.VersionHeader] != UplinkFormat.Version || !_key!.VerifyData(signed, signature, HashAlgorithmName.SHA256))
        {
            Wrong.Add($"the signature of {path} is wrong");
        }

        var number = long.Parse(counter, CultureInfo.InvariantCulture);
        var last = _counters.GetValueOrDefault(path);
        if (number <= last)
        {
            return (409, new Refused("The counter must rise.", last + 5000));
        }

        _counters[path] = number;
        return null;
    }

    private (int Status, object Answer) BatchAsync(byte[] body)
    {
        BatchAnswer? answer = null;
        foreach (var line in Encoding.UTF8.GetString(body).TrimEnd('\n').Split('\n').Select(Encoding.UTF8.GetBytes))
        {
            var entry = ExportLine.Parse(line);
            if (Forked.TryGetValue(entry.Chain, out var reason))
            {
                return (409, new Refused(reason));
            }

            if (NotTaken is { } not && not.Chain == entry.Chain)
            {
                return (not.Status, new Refused("The watch room cannot take this chain. Somebody must look."));
            }

            _held.TryAdd(entry.Chain, []);
            if (entry.Chain == AlwaysGap)
            {
                GapsAnswered++;
                return (409, AnswerOf(entry.Chain));
            }

            var held = _held[entry.Chain];
            answer = AnswerOf(entry.Chain);
            if (entry.Sequence > held.Count + 1)
            {
                return (409, answer);
            }

            if (entry.Sequence <= held.Count)
            {
                if (!held[(int)entry.Sequence - 1].AsSpan().SequenceEqual(line))
                {
                    Wrong.Add($"{entry.Chain}/{entry.Sequence} came with other content");
                }

                continue;
            }

            held.Add(line);
            answer = AnswerOf(entry.Chain);
        }

        return (200, answer!);
    }

    private BatchAnswer AnswerOf(string chain) => _held[chain] is { Count: > 0 } held
        ? new BatchAnswer(chain, held.Count, ExportLine.Parse(held[^1]).Hash)
        : new BatchAnswer(chain, 0, new string('0', 64));

    private (int Status, object Answer) BeatAsync(byte[] body)
    {
        _beats.Add(JsonSerializer.Deserialize<Beat>(body, UplinkFormat.Json)!);
        return (200, Kept);
    }
}
