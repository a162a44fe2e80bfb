using System.Text;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Heads;
using Companion.Journal.Linking;

namespace Companion.Watchroom.Proving;

/// <summary>A tablet's signed head as a leaf of the watch room's tree, and as a line of its file: the device, a space, the entry. Pure; any thread.</summary>
/// <param name="Device">The tablet.</param>
/// <param name="Entry">Its `head.signed` entry: the canonical form is the content of the leaf.</param>
internal sealed record HeadLeaf(string Device, JournalEntry Entry)
{
    private const byte Space = (byte)' ';

    /// <summary>The chain that the head is of.</summary>
    public string Job => Statement.Job;

    /// <summary>Its end, as the tablet signed it.</summary>
    public ChainHead End => Statement.Head;

    private HeadStatement Statement { get; } = HeadStatement.Of(Entry);

    /// <summary>The leaf of a line; throws <see cref="FormatException"/>.</summary>
    public static HeadLeaf Of(ReadOnlyMemory<byte> line)
    {
        var space = line.Span.IndexOf(Space);
        return space > 0
            ? new HeadLeaf(Encoding.ASCII.GetString(line.Span[..space]), EntryCodec.Parse(line[(space + 1)..]))
            : throw new FormatException("a line holds neither a leaf nor a signed head of the tree");
    }

    /// <summary>The line.</summary>
    public ReadOnlyMemory<byte> Line() => (byte[])[.. Encoding.ASCII.GetBytes(Device), Space, .. Entry.Bytes.Span];
}
