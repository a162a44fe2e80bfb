using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Engine.Codec;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Heads;
using Companion.Journal.Proof;
using Companion.Papers.Coding;
using Companion.Papers.Drawing;
using Companion.Review;
using Companion.Simulation.Disk;
using Companion.TestKit;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Tests.Support;
using SkiaSharp;

namespace Companion.Watchroom.Tests.Checking;

/// <summary>A paired tablet with a job of the real loop in a real journal, the codes of its papers, and what of the job has arrived.</summary>
internal sealed class PaperBench : IDisposable, IHeadSigner, IPaperSigner
{
    public const string Job = "job-1";
    private const string Folder = "/tablet";

    /// <summary>The loop's walk is the same for every test: it is walked once.</summary>
    private static readonly Lazy<Task<EngineBench>> Walk = new(async () => await (await new EngineBench().OpenAsync(Job)).UntilAsync(NeedKind.Working));

    private readonly ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly WatchroomRig rig;
    private readonly HttpClient client;
    private readonly List<JournalEntry> entries = [];
    private string[] jobLines = [];

    private PaperBench(WatchroomRig rig, FakeTablet tablet) => (this.rig, Paired, client) = (rig, tablet, Pinned.Client(rig));

    public FakeTablet Paired { get; }

    /// <summary>The sequence of the job's last entry.</summary>
    public int Last => entries.Count;

    Guid IPaperSigner.Tablet => Paired.Tablet;

    string IHeadSigner.PublicKey => Convert.ToBase64String(key.ExportSubjectPublicKeyInfo());

    string IPaperSigner.KeyId => HeadStatement.KeyId(((IHeadSigner)this).PublicKey);

    /// <summary>Paired, with the tablet's own chain received.</summary>
    public static async Task<PaperBench> StartAsync(WatchroomRig rig)
    {
        var bench = new PaperBench(rig, await rig.PairAsync());
        var walk = await Walk.Value;
        var disk = new SimulatedDisk();
        var options = new StoreOptions(walk.Clock) { Kind = StoreKind.Real, TabletId = bench.Paired.Tablet, Disk = disk, Signer = bench };
        await using (var journal = await JournalStore.OpenAsync(Folder, options))
        {
            foreach (var entry in walk.Journal.Read(Job).Where(entry => EventCodec.Read(entry) is not null))
            {
                await journal.AppendAsync([EventCodec.Draft(Job, EventCodec.Read(entry)!, EventCodec.MomentOf(entry))]);
            }
        }

        bench.jobLines = Lines(disk, Job);
        bench.entries.AddRange(bench.jobLines.Select(line => ExportLine.Parse(Encoding.UTF8.GetBytes(line))));
        await bench.TakeAsync(Lines(disk, Chains.Tablet));
        return bench;
    }

    /// <summary>The job arrives up to an entry.</summary>
    public Task SendAsync(int until) => TakeAsync(jobLines[..until]);

    /// <summary>Damages one entry as the watch room holds it, in one character of its hash.</summary>
    /// <param name="entry">Its sequence.</param>
    /// <param name="checksumFits">True when the checksum of its batch is made to fit, so that only the entry itself tells.</param>
    public void Damage(int entry, bool checksumFits)
    {
        var disk = new LocalDisk();
        var id = Encoding.UTF8.GetBytes($",\"id\":\"{Job}/{entry:D10}\"");
        var path = Directory.EnumerateFiles(rig.Store, "*.chain", SearchOption.AllDirectories).Single(file => File.ReadAllBytes(file).AsSpan().IndexOf(id) > 0);
        var bytes = File.ReadAllBytes(path);
        bytes[bytes.AsSpan().IndexOf(id) - 2] ^= 1;
        if (!checksumFits)
        {
            File.WriteAllBytes(path, bytes);
            return;
        }

        List<byte[]> payloads;
        using (var file = disk.OpenRead(path))
        {
            payloads = [.. new FrameReader(file).Whole()];
        }

        var damaged = payloads.Single(payload => payload.AsSpan().IndexOf(id) > 0);
        damaged[damaged.AsSpan().IndexOf(id) - 2] ^= 1;
        FrameFile.WriteNew(disk, path, payloads.Select(payload => (ReadOnlyMemory<byte>)payload));
    }

    /// <summary>What a paper made at an entry states.</summary>
    public PaperStatement At(int entry) => PaperStatement.Of(RecordedJob.Of(Job, entries.Take(entry)), Paired.Tablet)!;

    /// <summary>The code of a paper made at an entry, signed with the tablet's key.</summary>
    public PaperCode CodeAt(int entry) => PaperCode.Of(At(entry), this);

    byte[] IHeadSigner.Sign(ReadOnlySpan<byte> statement) => key.SignData(statement, HashAlgorithmName.SHA256);

    byte[] IPaperSigner.Sign(ReadOnlySpan<byte> statement) => key.SignData(statement, HashAlgorithmName.SHA256);

    /// <summary>A photograph of a code, a little askew, grey on grey, as JPEG.</summary>
    public static byte[] Photo(string text, int width = 1200, int height = 900)
    {
        var square = QrSquare.Of(text);
        using var bitmap = new SKBitmap(width, height);
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(new SKColor(196, 190, 180));
        canvas.Translate(width * 0.3f, height * 0.1f);
        canvas.RotateDegrees(7);
        var module = height * 0.7f / square.Modules;
        using var ink = new SKPaint { Color = new SKColor(50, 48, 55) };
        foreach (var (row, column, length) in square.Runs())
        {
            canvas.DrawRect(column * module, row * module, length * module, module, ink);
        }

        using var data = bitmap.Encode(SKEncodedImageFormat.Jpeg, 75);
        return data.ToArray();
    }

    /// <summary>Sends a form of the check page, without signing in.</summary>
    public Task<HttpResponseMessage> PostAsync(string path, params (string Name, string Value)[] fields) => client.PostAsync(
        new Uri(rig.App.Address, path), new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Name, field.Value))));

    /// <summary>Sends a photograph.</summary>
    public Task<HttpResponseMessage> PostPhotoAsync(byte[] photo)
    {
        var file = new ByteArrayContent(photo);
        file.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        var request = new HttpRequestMessage(HttpMethod.Post, new Uri(rig.App.Address, "/check/photo")) { Content = new MultipartFormDataContent { { file, "photo", "IMG_1.jpg" } } };

        // A refusal may come while the body is on its way: asked first, it is not lost in a broken pipe.
        request.Headers.ExpectContinue = true;
        return client.SendAsync(request);
    }

    public void Dispose()
    {
        client.Dispose();
        Paired.Dispose();
        key.Dispose();
    }

    private async Task TakeAsync(string[] lines)
    {
        var receipt = await rig.Services.Receiver.TakeAsync(Paired.Device, Paired.Tablet, Records.Body(lines));
        Assert.True(receipt.Outcome == ReceiptOutcome.Taken, receipt.Reason);
    }

    private static string[] Lines(SimulatedDisk disk, string chain)
    {
        using var output = new MemoryStream();
        JournalExport.Write(Folder, output, chain, includeSealed: true, disk);
        return Encoding.UTF8.GetString(output.ToArray()).TrimEnd('\n').Split('\n');
    }
}
