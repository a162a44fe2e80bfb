using Companion.Journal;
using Companion.Journal.Heads;
using Companion.Journal.Reading;
using Companion.Review;

namespace Companion.Tablet.Web;

/// <summary>The jobs of one exported file, read once. Personal texts are shown only where the file holds them. Callable from any thread.</summary>
public sealed class FileRecords : IRecordSource
{
    private readonly Dictionary<string, RecordedJob> jobs;

    /// <summary>Opens every job in what was read.</summary>
    /// <param name="reading">The file.</param>
    /// <param name="vouched">The end that a proof from outside vouches for; null when there is none that fits.</param>
    /// <param name="misfits">What does not fit a proof that came with the file, in plain words.</param>
    public FileRecords(LooseReading reading, HeadStatement? vouched, IReadOnlyList<string> misfits)
    {
        jobs = reading.Jobs.ToDictionary(job => job, job => RecordedJob.Of(job, reading.EntriesOf(job), Faults(job)));

        IEnumerable<(long Sequence, string Words)> Faults(string job)
        {
            var entries = reading.EntriesOf(job);
            var last = entries.Max(entry => entry.Sequence);
            var open = !reading.HasTablet && (vouched?.Job, vouched?.Head.Sequence) != (job, last) && entries.All(entry => entry.Type is not (EntryTypes.JobClosed or EntryTypes.JobHandedOver));
            return
            [
                .. misfits.Select(misfit => (last + 1, $"The proof: {misfit}.")),
                .. reading.FaultsOf(job),
                .. open ? [(last + 1, "The job does not end in this file: it was exported while the job went on, or its end is missing. Only a proof, or an export of the whole store, tells which.")]
                    : Array.Empty<(long, string)>(),
            ];
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<RecordName> Names() => [.. jobs.Keys.Select(job => new RecordName(string.Empty, job))];

    /// <inheritdoc/>
    public RecordedJob? Open(RecordName name) => name.Device.Length == 0 ? jobs.GetValueOrDefault(name.Chain) : null;

    /// <inheritdoc/>
    public string StampOf(RecordName name) => string.Empty;
}
