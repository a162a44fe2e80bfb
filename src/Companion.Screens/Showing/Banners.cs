using System.Collections.Immutable;
using Companion.Domain.Isolation;
using Companion.Engine;

namespace Companion.Screens.Showing;

/// <summary>The banners for a state, the gravest first.</summary>
public static class Banners
{
    /// <summary>All that apply.</summary>
    public static ImmutableArray<Banner> Of(Snapshot snapshot) => [.. All(snapshot)];

    private static IEnumerable<Banner> All(Snapshot snapshot)
    {
        if (!snapshot.Recording)
        {
            yield return new Banner(BannerKind.NotRecording, "Not recording", $"{snapshot.Trouble} Nothing is accepted. Treat as live.".TrimStart());
        }

        foreach (var banner in OfJob(snapshot.Job))
        {
            yield return banner;
        }

        foreach (var (device, advice) in snapshot.Lost.OrderBy(lost => lost.Key, StringComparer.Ordinal))
        {
            yield return new Banner(BannerKind.Device, $"No {device}", advice);
        }
    }

    private static IEnumerable<Banner> OfJob(Job? job)
    {
        if (job is null || job.Ended)
        {
            yield break;
        }

        if (job.Alarm is { } alarm)
        {
            yield return new Banner(BannerKind.Alarm, TitleOf(alarm.Kind), alarm.Text);
        }

        if (job.Halt is { } halt)
        {
            yield return new Banner(BannerKind.Halt, "Work is stopped", halt.Final ? $"{halt.Reason} Treat as live, keep away, hand over." : halt.Reason);
        }

        if (job.Doubt)
        {
            yield return new Banner(BannerKind.Doubt, "Not watched", "Nothing counts until you confirm that nothing was touched.");
        }
    }

    private static string TitleOf(AlarmKind kind) => kind switch
    {
        AlarmKind.Live => "Live",
        AlarmKind.Void => "Void",
        AlarmKind.Help => "Help",
        _ => "Stop",
    };
}
