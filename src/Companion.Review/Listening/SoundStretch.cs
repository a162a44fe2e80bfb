using System.Collections.Immutable;
using Companion.Domain.Events;

namespace Companion.Review.Listening;

/// <summary>A part of a job's recorded sound, at its place in the record's time.</summary>
/// <param name="Sequence">The entry that tells of it.</param>
/// <param name="From">From when, since the record's first entry.</param>
/// <param name="Until">Until when.</param>
public sealed record SoundStretch(long Sequence, TimeSpan From, TimeSpan Until)
{
    /// <summary>
    /// All parts that can be placed, by time. Within one running period the clock of the entries is the clock of the sound; a part of a period
    /// of which no entry is left has no place.
    /// </summary>
    public static ImmutableArray<SoundStretch> Of(RecordedJob job)
    {
        var stretches = ImmutableArray.CreateBuilder<SoundStretch>();
        foreach (var entry in job.Entries)
        {
            if (entry.Happened is SoundRecorded part && Anchor(job, part) is { } anchor)
            {
                stretches.Add(new SoundStretch(entry.Sequence, Place(anchor, part.From.Nanoseconds), Place(anchor, part.Until.Nanoseconds)));
            }
        }

        stretches.Sort((one, other) => one.From.CompareTo(other.From));
        return stretches.ToImmutable();
    }

    /// <summary>The last entry of the same running period before the sound began, or else the first one after.</summary>
    private static RecordedEntry? Anchor(RecordedJob job, SoundRecorded part)
    {
        var period = job.Entries.Where(entry => entry.Entry.BootId == part.Boot).ToList();
        return period.LastOrDefault(entry => entry.Entry.Uptime <= part.From.Nanoseconds) ?? period.FirstOrDefault();
    }

    private static TimeSpan Place(RecordedEntry anchor, long uptime) => anchor.Since + TimeSpan.FromTicks((uptime - anchor.Entry.Uptime) / 100);
}
