using System.Buffers;

namespace Companion.Watchroom.Web;

/// <summary>Reads a request's body up to a limit, whatever its length header says.</summary>
internal static class BoundedBody
{
    /// <summary>The body; null when it is larger.</summary>
    public static async Task<ReadOnlyMemory<byte>?> ReadAsync(HttpRequest request, int limit, CancellationToken cancellation)
    {
        if (request.ContentLength > limit)
        {
            return null;
        }

        var body = new ArrayBufferWriter<byte>((int)(request.ContentLength ?? 0) + 1);
        while (true)
        {
            var read = await request.Body.ReadAsync(body.GetMemory(1), cancellation).ConfigureAwait(false);
            if (read == 0)
            {
                return body.WrittenMemory;
            }

            body.Advance(read);
            if (body.WrittenCount > limit)
            {
                return null;
            }
        }
    }
}
