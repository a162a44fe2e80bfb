using System.Globalization;
using System.Text;

namespace Companion.Benchmarks.Watchroom;

/// <summary>Finds the requests in the bytes of an HTTP/1.1 connection, whose bodies have a length header. One thread; the path may be read by others.</summary>
internal sealed class RequestCount
{
    private const string LengthHeader = "Content-Length:";
    private readonly List<byte> header = [];
    private long left;
    private volatile string path = string.Empty;

    /// <summary>The path of the request that came last.</summary>
    public string Path => path;

    /// <summary>Takes more bytes; tells of each request when its header is whole.</summary>
    public void Take(ReadOnlySpan<byte> bytes, Action<string, int, int> request)
    {
        while (bytes.Length > 0)
        {
            if (left > 0)
            {
                var some = (int)Math.Min(left, bytes.Length);
                left -= some;
                bytes = bytes[some..];
                continue;
            }

            header.Add(bytes[0]);
            bytes = bytes[1..];
            if (header is [.., (byte)'\r', (byte)'\n', (byte)'\r', (byte)'\n'])
            {
                var lines = Encoding.ASCII.GetString([.. header]).Split("\r\n");
                path = lines[0].Split(' ')[1];
                var length = lines.FirstOrDefault(line => line.StartsWith(LengthHeader, StringComparison.OrdinalIgnoreCase)) is { } line
                    ? int.Parse(line[LengthHeader.Length..], CultureInfo.InvariantCulture)
                    : 0;
                request(path, header.Count, length);
                left = length;
                header.Clear();
            }
        }
    }
}
