using System.Globalization;
using Companion.Domain.Isolation;
using Companion.Engine.Codec;

namespace Companion.TestKit.Judging;

/// <summary>A job as text in which equal jobs are equal.</summary>
public static class JobText
{
    public static string Of(Job? job) => job is null ? "none" : string.Join('\n',
        Line("id", job.Id, job.Sequence, job.Technician, job.HasSecondPerson, job.Rehearsal, job.Policy, job.Rating, job.SoundChecked, job.Doubt, job.Ended),
        Line("clock", job.Clock.BootId, job.Clock.LastBoot.Nanoseconds, job.Clock.Counted.Nanoseconds, job.Clock.AnchorBoot.Nanoseconds,
            job.Clock.Asleep.Nanoseconds, job.Clock.LatestWall.ToString("O", CultureInfo.InvariantCulture), job.Clock.WallOffset.Nanoseconds),
        Line("kit", string.Join(',', job.Kit.Select(item => item with { Proves = [] }))),
        Line("proves", string.Join(',', job.Kit.SelectMany(item => item.Proves))),
        Line("way", job.Way?.Id, job.SheetDigest, job.Sheet is null ? null : SheetJson.Write(job.Sheet).ToJsonString()),
        Line("checked", Sorted(job.Checked.Select(id => id.Value))),
        Line("done", Sorted(job.Done.Select(id => id.Value))),
        Line("points", Sorted(job.Points.Select(pair => pair.ToString()))),
        Line("waits", Sorted(job.Waits.Select(pair => pair.ToString()))),
        Line("watched", string.Join(',', job.Watched)),
        Line("proofs", Sorted(job.Proofs.Select(pair => pair.ToString()))),
        Line("test", job.Test?.Place, job.Test?.Tester, job.Test?.StartedBoot, job.Test?.ContactConfirmed,
            Sorted(job.Test?.Before.Select(kind => kind.ToString()) ?? []), Sorted(job.Test?.After.Select(kind => kind.ToString()) ?? []),
            Sorted(job.Test?.Readings.Select(pair => pair.ToString()) ?? [])),
        Line("people", job.Technician, Sorted(job.Present), string.Join(',', job.Workers), job.OnBreak, job.Linked),
        Line("locks", string.Join(',', job.Locks), job.ToolsOut, job.ToolsAreIn, job.PuttingBack, job.EverybodyAway, Sorted(job.Closed.Select(id => id.Value))),
        Line("last", string.Join(',', job.LastReadings)),
        Line("rest", job.Clearance, job.Halt, string.Join(",", job.Alarms), job.EverOpened, job.Inability, job.Question));

    private static string Sorted(IEnumerable<string> items) => string.Join(',', items.Order(StringComparer.Ordinal));

    private static string Line(params object?[] parts) => string.Join(' ', parts);
}
