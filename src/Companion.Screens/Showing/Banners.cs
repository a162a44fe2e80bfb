using System.Collections.Immutable;
using Companion.Domain.CheckIn;
using Companion.Domain.Isolation;
using Companion.Engine;
using Companion.Engine.Ports;

namespace Companion.Screens.Showing;

/// <summary>The banners for a state, the gravest first.</summary>
public static class Banners
{
    /// <summary>All that apply.</summary>
    public static ImmutableArray<Banner> Of(Snapshot snapshot) => [.. All(snapshot).OrderBy(banner => banner.Kind)];

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

        if (snapshot.Lost.TryGetValue(DeviceNotice.Record, out var damage))
        {
            yield return new Banner(BannerKind.Record, "Record damaged", damage);
        }

        if (OfDevices(snapshot) is { } devices)
        {
            yield return devices;
        }
    }

    /// <summary>One line whatever is lost: it must leave room for the keypad, which is needed most when voice is gone.</summary>
    private static Banner? OfDevices(Snapshot snapshot)
    {
        var lost = snapshot.Lost.Where(device => device.Key != DeviceNotice.Record).OrderBy(device => device.Key, StringComparer.Ordinal).ToList();
        var title = string.Join(", ", lost.Select(device => device.Key == DeviceNotice.Companion ? "stood still" : $"no {device.Key}"));
        return lost.Count switch
        {
            0 => null,
            1 => new Banner(BannerKind.Device, Capital(title), lost[0].Value),
            _ => new Banner(BannerKind.Device, Capital(title), string.Join(' ', Advice(snapshot.Lost))),
        };
    }

    /// <summary>What to do when several things are lost: each that needs something of its own keeps its words.</summary>
    private static IEnumerable<string> Advice(ImmutableDictionary<string, string> lost)
    {
        if (lost.TryGetValue(DeviceNotice.Companion, out var standstill))
        {
            yield return standstill;
        }

        if (lost.ContainsKey(DeviceNotice.Watchroom))
        {
            yield return "Nobody there hears you: call by telephone.";
        }

        if (lost.Keys.Except([DeviceNotice.Companion, DeviceNotice.Watchroom, DeviceNotice.Record]).Any())
        {
            yield return "Check plugs and switches. Read the screen, answer by touch or button.";
        }
    }

    private static string Capital(string title) => char.ToUpperInvariant(title[0]) + title[1..];

    private static IEnumerable<Banner> OfJob(Job? job)
    {
        if (job is null || job.Ended)
        {
            yield break;
        }

        if (job.Alarm is { } alarm)
        {
            var title = TitleOf(alarm.Kind);
            yield return new Banner(BannerKind.Alarm, title, WithoutTitle(alarm.Text, title));
        }

        if (OfCheckIn(job.CheckIn) is { } asked)
        {
            yield return asked;
        }

        // In a stand-off the question itself says what is left, and the heat watch needs the room.
        if (job is { Halt: { } halt, StandOff: null })
        {
            yield return new Banner(BannerKind.Halt, "Work is stopped", halt.Final ? $"{halt.Reason} Treat as live, keep away, hand over." : halt.Reason);
        }

        if (job.Doubt)
        {
            yield return new Banner(BannerKind.Doubt, "Not watched", "Nothing counts until you confirm that nothing was touched.");
        }
    }

    private static Banner? OfCheckIn(CheckInWatch? watch) => watch?.Stage switch
    {
        CheckInStage.Asked => new Banner(BannerKind.CheckIn, "Check in", "Say, I am all right. Or hold the key All right."),
        CheckInStage.Due => new Banner(BannerKind.CheckIn, "Check in now", "Say, I am all right. Or hold the key All right."),
        CheckInStage.Unanswered => new Banner(BannerKind.CheckIn, "Check-in missed", "Say, I am all right, or help me. Or hold the key All right."),
        _ => null,
    };

    /// <summary>The spoken words begin with the title; on the screen it stands once.</summary>
    private static string WithoutTitle(string text, string title) =>
        text.StartsWith($"{title}. ", StringComparison.Ordinal) ? text[(title.Length + 2)..] : text;

    private static string TitleOf(AlarmKind kind) => kind switch
    {
        AlarmKind.Live => "Live",
        AlarmKind.Void => "Void",
        AlarmKind.Help => "Help",
        _ => "Stop",
    };
}
