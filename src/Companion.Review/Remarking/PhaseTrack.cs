using Companion.Domain.CheckIn;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Engine.Codec;

namespace Companion.Review.Remarking;

/// <summary>The phase of a job after each of its entries, by the fold that the tablet runs. Where a damaged record cannot be folded on, it ends.</summary>
internal static class PhaseTrack
{
    public static IEnumerable<(RecordedEntry At, WorkPhase Phase)> Of(RemarkBook book)
    {
        Job? job = null;
        foreach (var entry in book.Entries)
        {
            if (!TryFold(entry, ref job))
            {
                yield break;
            }

            if (job is { Ended: false })
            {
                yield return (entry, WorkPhases.Of(job));
            }
        }
    }

    private static bool TryFold(RecordedEntry entry, ref Job? job)
    {
        try
        {
            job = entry.Happened is { } happened
                ? Evolve.Apply(job, happened, entry.Entry.Chain, entry.Sequence, EventCodec.MomentOf(entry.Entry))
                : job;
            return true;
        }
        catch (Exception fault) when (fault is InvalidOperationException or KeyNotFoundException or NullReferenceException or ArgumentException or OverflowException or FormatException or IndexOutOfRangeException)
        {
            // The rules never wrote this order of entries: the troubles of the record tell it.
            return false;
        }
    }
}
