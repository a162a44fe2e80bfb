using System.Globalization;
using System.Text;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Heads;

namespace Companion.Journal.Reading;

/// <summary>
/// Lines of chains read as far as they can be, for people who look back, with what is wrong in plain words. Where the tablet's own chain is among
/// them, the ends that the tablet signed are held against the ends that are here. Nothing is repaired. One thread.
/// </summary>
public sealed class LooseReading
{
    /// <summary>Most lines that are told one by one when they cannot be read: a file that is no export has nothing else.</summary>
    public const int MostTold = 20;

    private readonly Dictionary<string, List<JournalEntry>> entries = [];
    private readonly List<(string? Chain, long Sequence, string Words)> unread = [];
    private readonly List<string> faults = [];
    private long untold;

    /// <summary>Chains that are jobs, in order of their first line.</summary>
    public IReadOnlyList<string> Jobs => [.. entries.Keys.Where(chain => chain != Chains.Tablet)];

    /// <summary>True when the tablet's own chain is here: then it can be told whether entries are missing at the end of a job.</summary>
    public bool HasTablet => entries.ContainsKey(Chains.Tablet);

    /// <summary>True when a line was met that holds no entry.</summary>
    public bool HasUnread => unread.Count > 0;

    /// <summary>Takes the next line.</summary>
    /// <param name="line">Its bytes.</param>
    /// <param name="name">What it is called when it cannot be read, "Line 7".</param>
    public void Take(ReadOnlyMemory<byte> line, string name)
    {
        var read = LineReading.Of(line);
        if (read.Entry is { } entry)
        {
            if (!entries.TryGetValue(entry.Chain, out var chain))
            {
                entries.Add(entry.Chain, chain = []);
            }

            chain.Add(entry);
            return;
        }

        if (unread.Count == MostTold)
        {
            untold++;
            return;
        }

        var place = EntryCodec.ClaimedPlace(line);
        unread.Add((place?.Chain, place?.Sequence ?? long.MaxValue, $"{name} cannot be read, and is left out: {read.Fault}"));
    }

    /// <summary>Adds what is wrong with the whole: the file was cut, bytes do not fit.</summary>
    public void Tell(string fault) => faults.Add(fault);

    /// <summary>The entries of a chain as they came; what is there twice is there twice.</summary>
    public IReadOnlyList<JournalEntry> EntriesOf(string chain) => entries.GetValueOrDefault(chain) ?? [];

    /// <summary>What is wrong that a job's entries do not tell by themselves: where it shows, and what it is.</summary>
    public IReadOnlyList<(long Sequence, string Words)> FaultsOf(string job)
    {
        var last = EntriesOf(job).Select(entry => entry.Sequence).DefaultIfEmpty(0).Max();
        var told = new List<(long Sequence, string Words)>(faults.Select(fault => (last + 1, fault)));
        told.AddRange(EndsMissing(job, last).Select(words => (last + 1, words)));
        told.AddRange(unread.Where(line => line.Chain is null || line.Chain == job).Select(line => (Math.Min(line.Sequence, last + 1), line.Words)));
        if (untold > 0)
        {
            told.Add((last + 1, string.Create(CultureInfo.InvariantCulture, $"And {untold} more lines cannot be read.")));
        }

        return told;
    }

    /// <summary>True for the bytes of a line that may say something of a job's end: the others of a long tablet chain need no reading.</summary>
    public static bool MayName(ReadOnlyMemory<byte> line, string job) => line.Span.IndexOf(Encoding.UTF8.GetBytes($"\"{job}\"")) >= 0;

    private IEnumerable<string> EndsMissing(string job, long last)
    {
        var signed = EntriesOf(Chains.Tablet).Where(entry => entry.Type == EntryTypes.HeadSigned).Select(Statement).OfType<HeadStatement>()
            .Where(statement => statement.Job == job).MaxBy(statement => statement.Head.Sequence);
        if (signed is not null && signed.Head.Sequence > last)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"The end is missing: the tablet signed {signed.Head.Sequence} entries of this job, and the last that is here is {last}.");
        }
        else if (signed is not null && EntriesOf(job).Where(entry => entry.Sequence == signed.Head.Sequence).All(entry => entry.Hash != signed.Head.Hash))
        {
            yield return string.Create(
                CultureInfo.InvariantCulture, $"Entry {signed.Head.Sequence} is not the one that the tablet signed as the end of this job at that time.");
        }
    }

    private static HeadStatement? Statement(JournalEntry entry)
    {
        try
        {
            return HeadStatement.Of(entry);
        }
        catch (Exception cause) when (cause is FormatException or KeyNotFoundException or InvalidOperationException)
        {
            // A later version, or damage: whoever verifies is told; here it says nothing of an end.
            return null;
        }
    }
}
