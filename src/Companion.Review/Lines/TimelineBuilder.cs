using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Sheets;
using Companion.Domain.Time;
using Companion.Engine.Codec;

namespace Companion.Review.Lines;

/// <summary>Builds a timeline in one pass. Waits are counted by the rules' own clock, so that a record without its sheet opens too. One thread.</summary>
internal sealed class TimelineBuilder(RecordedJob job)
{
    private readonly ImmutableArray<Mark>.Builder marks = ImmutableArray.CreateBuilder<Mark>();
    private readonly ImmutableArray<WaitBar>.Builder waits = ImmutableArray.CreateBuilder<WaitBar>();
    private readonly ImmutableArray<PlotPoint>.Builder readings = ImmutableArray.CreateBuilder<PlotPoint>();
    private readonly ImmutableArray<LineBreak>.Builder breaks = ImmutableArray.CreateBuilder<LineBreak>();
    private readonly Dictionary<WaitId, (RecordedEntry Start, WaitStarted Event, Ticks Counted)> running = [];
    private JobClock? clock;
    private Sheet? sheet;
    private int notShown;

    public Timeline Build()
    {
        var before = 0L;
        foreach (var entry in job.Entries)
        {
            Advance(entry, before);
            Note(entry);
            before = entry.At;
        }

        foreach (var wait in running.Keys.ToList())
        {
            End(wait, before, WaitEnd.Running, string.Empty);
        }

        waits.Sort((one, other) => one.Started.CompareTo(other.Started));
        return new Timeline(marks.ToImmutable(), waits.ToImmutable(), readings.ToImmutable(), breaks.ToImmutable(), before, notShown);
    }

    private void Advance(RecordedEntry entry, long before)
    {
        var moment = EventCodec.MomentOf(entry.Entry);
        switch (entry.Happened)
        {
            case JobOpened opened:
                clock = JobClock.Begin(moment with { Awake = opened.Awake }, opened.LatestWall);
                break;
            case ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume } anchor:
                clock = clock?.Anchor(moment, anchor.Awake, gap: true, running.Count > 0);
                var what = anchor.Why == AnchorReason.Start ? "The app was started again" : "The tablet slept, or the app stood still";
                breaks.Add(new LineBreak(before, entry.At, string.Create(
                    CultureInfo.InvariantCulture, $"{what}: {(entry.At - before) / Ticks.PerSecond} s that count for no wait.")));
                break;
            case ClockAnchored anchor:
                clock = clock?.Anchor(moment, anchor.Awake, gap: false, running.Count > 0);
                break;
            case not null:
                clock = clock?.Advance(moment, running.Count > 0);
                break;
        }
    }

    private void Note(RecordedEntry entry)
    {
        switch (entry.Happened)
        {
            case ClockAnchored { Why: AnchorReason.Tick } or LinkHeard or SoundRecorded { Cut: false, Missing: 0 }:
                notShown++;
                return;
            case SheetPinned pinned:
                sheet = pinned.Sheet;
                break;
            case WaitStarted started:
                End(started.Wait, entry.At, WaitEnd.StartedAnew, string.Empty);
                running[started.Wait] = (entry, started, Counted);
                break;
            case WaitCompleted completed:
                End(completed.Wait, entry.At, WaitEnd.Completed, string.Empty);
                break;
            case WaitVoided voided:
                End(voided.Wait, entry.At, WaitEnd.Voided, voided.Reason);
                break;
            case ReadingTaken { Volts: { } volts } taken:
                readings.Add(new PlotPoint(entry.Sequence, entry.At, volts.Magnitude, false, LimitOf(taken)));
                break;
            case ReadingTaken { Below: { } below } taken:
                readings.Add(new PlotPoint(entry.Sequence, entry.At, below.Magnitude, true, LimitOf(taken)));
                break;
        }

        var isLive = readings is [.., var last] && last.Sequence == entry.Sequence && last.IsLive;
        var kind = isLive ? MarkKind.Live : entry.IsNewer ? MarkKind.Plain : EntryPlaces.KindOf(entry.Happened);
        marks.Add(new Mark(entry.Sequence, entry.At, EntryPlaces.LaneOf(entry.Happened), kind, EntryWords.Of(entry, sheet)));
    }

    private Ticks Counted => clock?.Counted ?? Ticks.Zero;

    private void End(WaitId wait, long at, WaitEnd end, string reason)
    {
        if (running.Remove(wait, out var run))
        {
            waits.Add(new WaitBar(
                run.Start.Sequence, NameOf(wait), run.Start.At, at, run.Event.Seconds, (Counted - run.Counted).Seconds, end, reason));
        }
    }

    private string NameOf(WaitId wait) => sheet?.Waits.FirstOrDefault(rule => rule.Id == wait)?.Name ?? wait.Value;

    private Volts? LimitOf(ReadingTaken taken) => sheet?.TestPlaces.FirstOrDefault(place => place.Id == taken.TestPlace) is { } place
        ? taken.Kind == VoltageKind.Ac ? place.LimitAc : place.LimitDc
        : null;
}
