using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Engine.Codec.Upcasting;
using Companion.Journal.Format;
using Companion.Journal.Frames;
using Companion.Journal.Proof;

namespace Companion.Watchroom.Receiving;

/// <summary>A received line: its bytes as sent, and the entry in them, its hash checked.</summary>
/// <param name="Bytes">As sent.</param>
/// <param name="Entry">What they say.</param>
internal readonly record struct ReceivedLine(ReadOnlyMemory<byte> Bytes, JournalEntry Entry);

/// <summary>A batch, read strictly: every line an entry of one chain, made by one tablet, in rising order. Pure; any thread.</summary>
/// <param name="Chain">Its chain; null when not even that can be read.</param>
/// <param name="Lines">Its lines; empty when something is wrong.</param>
/// <param name="Fault">What is wrong; <see cref="ReceiptOutcome.Taken"/> for nothing.</param>
/// <param name="Reason">The same in plain words.</param>
internal sealed record ReceivedBatch(string? Chain, IReadOnlyList<ReceivedLine> Lines, ReceiptOutcome Fault, string Reason)
{
    private const byte LineFeed = (byte)'\n';

    /// <summary>Reads a batch of a tablet.</summary>
    public static ReceivedBatch Of(ReadOnlyMemory<byte> body, Guid tablet)
    {
        if (body.Length is 0 or > UplinkFormat.LargestBatch)
        {
            return Broken(null, $"A batch has 1 to {UplinkFormat.LargestBatch} bytes, this one has {body.Length}. Send fewer entries at once.");
        }

        var lines = new List<ReceivedLine>();
        string? chain = null;
        foreach (var bytes in EntryBatch.Split(body.Span[^1] == LineFeed ? body[..^1] : body))
        {
            chain ??= ClaimedChain(bytes);
            try
            {
                if (ExportLine.VersionOf(bytes) is { } version and > EntryFormat.Newest)
                {
                    return new ReceivedBatch(
                        chain, [], ReceiptOutcome.WrongVersion,
                        $"Entries of the format {EntryFormat.NameOf(version)} are not known here, only up to {EntryFormat.NameOf(EntryFormat.Newest)}. Bring the watch room up to date; the tablet keeps them until then.");
                }

                var entry = ExportLine.Parse(bytes);
                if (Misfit(entry, lines, tablet) is { } misfit)
                {
                    return Broken(chain, misfit);
                }

                lines.Add(new ReceivedLine(bytes, entry));
            }
            catch (FormatException cause)
            {
                return Broken(chain, $"Line {lines.Count + 1} is not an entry: {cause.Message}");
            }
        }

        return body.Span[^1] == LineFeed
            ? new ReceivedBatch(chain, lines, ReceiptOutcome.Taken, "")
            : Broken(chain, "The last line has no end: the batch was cut off. Send it again.");
    }

    private static string? Misfit(JournalEntry entry, List<ReceivedLine> before, Guid tablet)
    {
        if (EntryCodec.TabletOf(entry) != tablet)
        {
            return $"Entry {entry.Chain}/{entry.Sequence} was made by another tablet than the one that sends it.";
        }

        if (before is not [.., { Entry: var last }])
        {
            return null;
        }

        return entry.Chain != last.Chain ? "A batch holds entries of one chain."
            : entry.Rehearsal != last.Rehearsal ? "Real and rehearsal entries are never mixed."
            : entry.Sequence <= last.Sequence ? $"Entry {entry.Sequence} follows entry {last.Sequence}: the order does not rise."
            : null;
    }

    private static string? ClaimedChain(ReadOnlyMemory<byte> line) =>
        EntryCodec.ClaimedPlace(line) is { } place && EntryCodec.IsChainName(place.Chain) ? place.Chain : null;

    private static ReceivedBatch Broken(string? chain, string reason) => new(chain, [], ReceiptOutcome.Broken, reason);
}
