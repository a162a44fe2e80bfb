using System.Collections.Immutable;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.Screens.Answering;
using Companion.Screens.Showing;

namespace Companion.Review.Replaying;

/// <summary>The technician's screen as it was at a moment of a record. It is a picture of then: nothing on it is live, and it takes no answer.</summary>
/// <param name="State">What the record says up to then.</param>
/// <param name="Since">How long after the first entry.</param>
/// <param name="Wall">The wall clock of the tablet then: that of the last entry, and what has passed since.</param>
/// <param name="View">The screen.</param>
/// <param name="Countdowns">The countdowns as they stood; empty where it is not known.</param>
/// <param name="Unknown">Why it is not known what the screen showed; null where it is.</param>
public sealed record ReplayScreen(
    ReplayState State, TimeSpan Since, DateTimeOffset Wall, JobView View, ImmutableArray<Countdown> Countdowns, string? Unknown)
{
    /// <summary>What a screen shows and no entry tells, in words.</summary>
    public const string NotRecorded =
        "Not recorded, and so not shown: the words of answers that were taken at once, digits while they were typed, touches, panels that were opened, the sheets on offer, and a store that failed.";

    /// <summary>The screen right after so many entries.</summary>
    public static ReplayScreen After(JobReplay replay, int count) => Of(replay, replay.After(count), TimeSpan.Zero);

    /// <summary>The screen at a time since the first entry, between two entries as a rule.</summary>
    public static ReplayScreen At(JobReplay replay, TimeSpan since)
    {
        var within = since < TimeSpan.Zero ? TimeSpan.Zero : since > replay.Length ? replay.Length : since;
        var state = replay.After(replay.CountAt(within));
        return Of(replay, state, within - EntryOf(replay, state)?.Since ?? TimeSpan.Zero);
    }

    private static RecordedEntry? EntryOf(JobReplay replay, ReplayState state) =>
        state.Count == 0 ? null : replay.Record.Entries[state.Count - 1];

    private static ReplayScreen Of(JobReplay replay, ReplayState state, TimeSpan later)
    {
        var entry = EntryOf(replay, state);
        var then = entry is null ? default : EventCodec.MomentOf(entry.Entry);
        var ticks = new Ticks(later.Ticks * 100);
        var moment = then with { Wall = then.Wall + later, Boot = then.Boot + ticks };
        var (view, broken) = Rebuilt(replay, state, moment);
        var unknown = broken ?? Unsure(replay, state, ticks);
        return new ReplayScreen(
            state,
            (entry?.Since ?? TimeSpan.Zero) + later,
            moment.Wall,
            unknown is null ? view : view with { Statements = [], Discharge = null },
            unknown is null && state.Job is { Ended: false } job ? Showing(job, moment) : [],
            unknown);
    }

    /// <summary>A fold over a record with holes may come to a state that no whole record has, and that no screen is made for.</summary>
    private static (JobView View, string? Broken) Rebuilt(JobReplay replay, ReplayState state, Moment moment)
    {
        try
        {
            return (JobViews.Of(state.AsShown(moment), Entry.Empty, NoSheets.Instance, ReplayOpening.Of(replay.Record)), null);
        }
        catch (Exception fault) when (!replay.Record.Troubles.IsEmpty && fault is NullReferenceException or InvalidOperationException or KeyNotFoundException or ArgumentException)
        {
            return (JobViews.NotConnected(replay.Record.Rehearsal), "Entries before this one are missing or cannot be read. What the screen showed cannot be told from the rest.");
        }
    }

    private static ImmutableArray<Countdown> Showing(Companion.Domain.Isolation.Job job, Moment moment) => Companion.Screens.Showing.Countdowns.Of(job, moment);

    /// <summary>Between two entries the Companion may have been off or asleep: from when on, no entry tells (I2, I18).</summary>
    private static string? Unsure(JobReplay replay, ReplayState state, Ticks later)
    {
        if (later <= Ticks.Zero || state.Count == 0 || state.Count >= replay.Record.Entries.Length)
        {
            return null;
        }

        var (before, after) = (replay.Record.Entries[state.Count - 1], replay.Record.Entries[state.Count]);
        if (before.Entry.BootId != after.Entry.BootId || after.Happened is ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume })
        {
            return "The Companion was off or stood still before the next entry. When that began is not recorded, and so not what the screen showed.";
        }

        return state.Job is { ClockRuns: true, Ended: false } && later > JobClock.LongestStride
            ? "For longer than the clock's entries may lie apart there is no entry here. What the screen showed is not recorded."
            : null;
    }
}
