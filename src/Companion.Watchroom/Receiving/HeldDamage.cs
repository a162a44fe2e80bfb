using System.Globalization;
using Companion.Journal.Disk;

namespace Companion.Watchroom.Receiving;

/// <summary>What is wrong with the bytes of a held file, in plain words for whoever looks at a record. Changes nothing; used while nobody writes the file.</summary>
internal static class HeldDamage
{
    /// <summary>Null when every byte belongs to a whole line.</summary>
    public static string? Of(IDisk disk, string path)
    {
        var log = new LineLog(disk, path);
        log.Load(_ => { });
        return log.Torn == 0 ? null : string.Create(
            CultureInfo.InvariantCulture,
            $"Of what is held of this job, {log.Torn} bytes from {log.Length} on do not fit their checksum. {(log.IsDamaged
                ? "Entries behind them are there and are not shown: keep the file and have somebody look"
                : "They are the end of it: damage, or a write that was cut off, which the tablet sends again")}.");
    }
}
