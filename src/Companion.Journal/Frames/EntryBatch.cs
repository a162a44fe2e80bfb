using Companion.Contracts;
using Companion.Journal.Format;

namespace Companion.Journal.Frames;

/// <summary>
/// The payload of one witness frame: the entries of one append, in canonical form, joined by line feeds (which the form itself
/// never holds), so that a batch is durable whole or not at all. Pure; any thread.
/// </summary>
public static class EntryBatch
{
    private const byte LineFeed = (byte)'\n';

    /// <summary>Joins entries.</summary>
    public static byte[] Join(IReadOnlyList<JournalEntry> entries)
    {
        var payload = new byte[entries.Sum(e => e.Bytes.Length + 1) - 1];
        var offset = 0;
        foreach (var entry in entries)
        {
            entry.Bytes.Span.CopyTo(payload.AsSpan(offset));
            offset += entry.Bytes.Length;
            if (offset < payload.Length)
            {
                payload[offset++] = LineFeed;
            }
        }

        return payload;
    }

    /// <summary>Splits a payload into the bytes of its entries, unparsed.</summary>
    public static IEnumerable<ReadOnlyMemory<byte>> Split(ReadOnlyMemory<byte> payload)
    {
        while (true)
        {
            var end = payload.Span.IndexOf(LineFeed);
            if (end < 0)
            {
                yield return payload;
                yield break;
            }

            yield return payload[..end];
            payload = payload[(end + 1)..];
        }
    }

    /// <summary>Splits and parses strictly; throws <see cref="FormatException"/>.</summary>
    public static IEnumerable<JournalEntry> Parse(ReadOnlyMemory<byte> payload) => Split(payload).Select(EntryCodec.Parse);
}
