using System.Globalization;
using Companion.Journal.Disk;
using Companion.Journal.Linking;
using Companion.Journal.Reading;

namespace Companion.Watchroom.Receiving;

/// <summary>What is wrong with a held file, in plain words for whoever looks at a record or holds a paper of it. Changes nothing; used while nobody writes the file.</summary>
internal static class HeldDamage
{
    private const string Decides = "What is held of this job is damaged here and does not decide";

    /// <summary>Null when every byte of a chain's file belongs to an entry that holds and follows the one before it.</summary>
    public static HeldFault? OfChain(IDisk disk, string path)
    {
        var (head, misfit) = (ChainHead.Empty, (HeldFault?)null);
        var log = new LineLog(disk, path);
        log.Load(line => misfit ??= Misfit(line, ref head));
        return misfit ?? OfBytes(log, head.Sequence + 1);
    }

    /// <summary>The same of the file of what came with other content, whose lines need not follow each other.</summary>
    public static HeldFault? OfForks(IDisk disk, string path)
    {
        var log = new LineLog(disk, path);
        log.Load(_ => { });
        return log.Torn == 0 ? null : new HeldFault(null, string.Create(
            CultureInfo.InvariantCulture,
            $"Of what came of this job with other content, {log.Torn} bytes from {log.Length} on do not fit their checksum: keep the file and have somebody look."));
    }

    private static HeldFault? Misfit(ReadOnlyMemory<byte> line, ref ChainHead head)
    {
        var read = LineReading.Of(line);
        if (read.Entry is { } entry && ChainLink.Misfit(head, entry) is null)
        {
            head = new ChainHead(entry.Sequence, entry.Hash);
            return null;
        }

        var why = read.Entry is { } stray ? $"entry {stray.Sequence} stands there and does not follow entry {head.Sequence}" : read.Fault.TrimEnd('.');
        return new HeldFault(head.Sequence + 1, string.Create(
            CultureInfo.InvariantCulture, $"{Decides}: the first entry that does not fit is {head.Sequence + 1} ({why}). Keep the file and have somebody look."));
    }

    private static HeldFault? OfBytes(LineLog log, long first) => log.Torn == 0 ? null : new HeldFault(first, log.IsDamaged
        ? string.Create(
            CultureInfo.InvariantCulture,
            $"{Decides}: the first entry that does not fit is {first}. {log.Torn} bytes from {log.Length} on do not fit their checksum. Entries behind them are there and are not shown: keep the file and have somebody look.")
        : string.Create(
            CultureInfo.InvariantCulture,
            $"Of what is held of this job, {log.Torn} bytes from {log.Length} on, where entry {first} would begin, do not fit their checksum. They are the end of it: damage, or a write that was cut off, which the tablet sends again."));
}
