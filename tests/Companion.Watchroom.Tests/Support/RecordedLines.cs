using Companion.Contracts;
using Companion.Engine.Codec;
using Companion.Journal.Format;
using Companion.Journal.Proof;

namespace Companion.Watchroom.Tests.Support;

/// <summary>What a loop recorded in memory, as the lines that a tablet sends. The benchmarks make their records with it too.</summary>
public static class RecordedLines
{
    /// <summary>The lines, chained anew under a job's and a tablet's name.</summary>
    /// <param name="entries">The job's entries, in order.</param>
    /// <param name="job">The name that the job is to have.</param>
    /// <param name="tablet">The tablet.</param>
    /// <param name="later">By how much later it is to have happened.</param>
    public static IEnumerable<ReadOnlyMemory<byte>> Of(IEnumerable<JournalEntry> entries, string job, Guid tablet, TimeSpan later = default)
    {
        var (previous, sequence) = (ChainHash.None, 0);
        foreach (var entry in entries)
        {
            if (EventCodec.Read(entry) is not { } happened)
            {
                continue;
            }

            var moment = EventCodec.MomentOf(entry);
            var draft = EventCodec.Draft(job, happened, moment with { Wall = moment.Wall + later });
            var texts = draft.Personal.ToDictionary(text => text.Key, text => PersonalText.Seal(Guid.NewGuid().ToByteArray(), text.Value));
            var made = EntryCodec.Encode(draft, new EntryPlace(tablet, false, ++sequence, previous), texts);
            previous = made.Hash;
            yield return ExportLine.Of(made);
        }
    }
}
