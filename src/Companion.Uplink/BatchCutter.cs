using Companion.Contracts.Uplink;

namespace Companion.Uplink;

/// <summary>
/// How much goes in one batch. On a link too slow for a full one within an attempt, the same batch would be sent for ever: halved when none gets
/// through, doubled when one does.
/// </summary>
internal sealed class BatchCutter
{
    /// <summary>Most entries in a batch.</summary>
    public const int MostEntries = 200;

    /// <summary>Most bytes in a batch.</summary>
    public const int MostBytes = UplinkFormat.LargestBatch / 4;

    /// <summary>Most entries in the next batch.</summary>
    public int Most { get; set; } = MostEntries;

    /// <summary>Bytes of a batch as it is sent.</summary>
    public static int Length(IReadOnlyList<OutboxLine> batch) => batch.Sum(line => line.Line.Length + 1);

    /// <summary>A batch got through.</summary>
    public void Grow() => Most = Math.Min(MostEntries, Most * 2);

    /// <summary>A batch did not get through.</summary>
    public void Shrink() => Most = Math.Max(1, Most / 2);

    /// <summary>The next batch: at least one entry, however long.</summary>
    public List<OutboxLine> Cut(IReadOnlyList<OutboxLine> lines)
    {
        var batch = new List<OutboxLine>();
        var bytes = 0;
        foreach (var line in lines.Take(Most))
        {
            bytes += line.Line.Length + 1;
            if (batch.Count > 0 && bytes > MostBytes)
            {
                break;
            }

            batch.Add(line);
        }

        return batch;
    }
}
