using System.Collections.Concurrent;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;

namespace Companion.Benchmarks.Watchroom;

/// <summary>
/// Stands between a tablet and a watch room with the watch room's own certificate, passes everything on and counts it, by the path of the requests.
/// Callable from any thread.
/// </summary>
internal sealed class WireTap : IDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly X509Certificate2 certificate;
    private readonly Uri room;
    private readonly ConcurrentDictionary<string, WireCount> counts = new();

    private WireTap(X509Certificate2 certificate, Uri room)
    {
        (this.certificate, this.room) = (certificate, room);
        listener.Start();
        _ = Task.Run(AcceptAsync);
    }

    /// <summary>Where the tablet goes.</summary>
    public Uri Address => new($"https://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}");

    /// <summary>Begins.</summary>
    /// <param name="certificate">The watch room's PEM file with certificate and key.</param>
    /// <param name="room">The watch room.</param>
    public static WireTap Start(string certificate, Uri room) => new(X509Certificate2.CreateFromPemFile(certificate), room);

    /// <summary>What has passed on a path so far.</summary>
    public WireCount On(string path) => counts.GetValueOrDefault(path) ?? new WireCount(0, 0, 0, 0, 0);

    public void Dispose()
    {
        listener.Dispose();
        certificate.Dispose();
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true)
            {
                var client = await listener.AcceptTcpClientAsync();
                _ = Task.Run(() => PassAsync(client));
            }
        }
        catch (Exception cause) when (cause is SocketException or ObjectDisposedException)
        {
            // The measuring is over.
        }
    }

    /// <summary>A tablet keeps to one path on a connection: what comes before the first request belongs to it.</summary>
    private async Task PassAsync(TcpClient client)
    {
        using var server = new TcpClient();
        using (client)
        {
            try
            {
                client.NoDelay = server.NoDelay = true;
                await server.ConnectAsync(room.Host, room.Port);
                using var wire = new CountedStream(client.GetStream());
                await using var near = new SslStream(wire);
                await using var far = new SslStream(server.GetStream(), false, (_, _, _, _) => true);
                await near.AuthenticateAsServerAsync(certificate);
                await far.AuthenticateAsClientAsync(room.Host);
                var requests = new RequestCount();
                var there = PumpAsync(near, far, bytes => requests.Take(bytes, (path, header, body) =>
                    Add(path, new WireCount(1, header, body, 0, wire.TakeCount()))));
                var back = PumpAsync(far, near, bytes => Add(requests.Path, new WireCount(0, 0, 0, bytes.Length, wire.TakeCount())));
                await Task.WhenAny(there, back);
            }
            catch (Exception cause) when (cause is IOException or SocketException or ObjectDisposedException)
            {
                // One of the two went away: so does the other.
            }
        }
    }

    private void Add(string path, WireCount more) => counts.AddOrUpdate(path, more, (_, before) => before + more);

    private static async Task PumpAsync(Stream from, Stream to, Action<ReadOnlySpan<byte>> seen)
    {
        var buffer = new byte[1 << 16];
        while (await from.ReadAsync(buffer) is > 0 and var read)
        {
            // Counted before it is passed on: whoever has the answer finds its bytes counted.
            seen(buffer.AsSpan(0, read));
            await to.WriteAsync(buffer.AsMemory(0, read));
            await to.FlushAsync();
        }
    }

    /// <summary>Counts what goes through it in both directions: TLS as it is on the wire, its handshake too, without the headers of TCP and IP.</summary>
    private sealed class CountedStream(Stream inner) : Stream
    {
        private long count;

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => true;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        /// <summary>The bytes since it was asked last.</summary>
        public long TakeCount() => Interlocked.Exchange(ref count, 0);

        public override void Flush() => inner.Flush();

        public override int Read(byte[] buffer, int offset, int length) => Counted(inner.Read(buffer, offset, length));

        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellation = default) => Counted(await inner.ReadAsync(buffer, cancellation));

        public override void Write(byte[] buffer, int offset, int length) => inner.Write(buffer, offset, Counted(length));

        public override ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellation = default)
        {
            Counted(buffer.Length);
            return inner.WriteAsync(buffer, cancellation);
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        private int Counted(int bytes)
        {
            Interlocked.Add(ref count, bytes);
            return bytes;
        }
    }
}

/// <summary>Bytes that passed.</summary>
/// <param name="Requests">How many requests.</param>
/// <param name="Headers">Of requests, the request line too.</param>
/// <param name="Bodies">Of requests.</param>
/// <param name="Answers">Of answers, headers and bodies.</param>
/// <param name="Encrypted">Both directions as TLS on the wire.</param>
internal sealed record WireCount(long Requests, long Headers, long Bodies, long Answers, long Encrypted)
{
    public static WireCount operator +(WireCount one, WireCount other) => new(
        one.Requests + other.Requests, one.Headers + other.Headers, one.Bodies + other.Bodies, one.Answers + other.Answers, one.Encrypted + other.Encrypted);

    public static WireCount operator -(WireCount one, WireCount other) => new(
        one.Requests - other.Requests, one.Headers - other.Headers, one.Bodies - other.Bodies, one.Answers - other.Answers, one.Encrypted - other.Encrypted);
}
