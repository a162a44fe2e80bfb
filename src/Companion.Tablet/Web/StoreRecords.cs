using Companion.Contracts;
using Companion.Journal.Reading;
using Companion.Review;

namespace Companion.Tablet.Web;

/// <summary>
/// The tablet's own jobs, from the witness of its store while the app runs; nothing is recovered or changed. Personal texts stay out: no page
/// of the tablet may tell which wording a check-in had.
/// </summary>
/// <param name="store">The store's folder.</param>
public sealed class StoreRecords(string store) : IRecordSource
{
    /// <summary>The store's folder.</summary>
    public string Store { get; } = store;

    /// <inheritdoc/>
    public IReadOnlyList<RecordName> Names() =>
        [.. StoreReading.Jobs(Store).OrderDescending(StringComparer.Ordinal).Select(job => new RecordName(string.Empty, job))];

    /// <inheritdoc/>
    public RecordedJob? Open(RecordName name)
    {
        if (name.Device.Length > 0 || name.Chain == Chains.Tablet)
        {
            return null;
        }

        var reading = StoreReading.Read(Store, name.Chain);
        return reading.EntriesOf(name.Chain) is { Count: > 0 } entries ? RecordedJob.Of(name.Chain, entries, reading.FaultsOf(name.Chain)) : null;
    }

    /// <inheritdoc/>
    public string StampOf(RecordName name) => StoreReading.StampOf(Store);
}
