using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>
/// What is told of devices and of the Companion itself, and what of it a person must have met: that stands until an answer that began
/// after it was told has been taken (I19), or until the job that it concerned has ended.
/// </summary>
internal sealed class Notices(Voice voice, IClock clock)
{
    private static readonly Ticks LossAgain = Ticks.OfSeconds(60);

    private readonly Dictionary<string, Moment> _said = [];
    private readonly Dictionary<string, Owed> _unanswered = [];

    /// <summary>
    /// Damage of the record is for the technician to know, whether a job is open or not (I12): said in its first sentences, shown in full.
    /// Null when there is none.
    /// </summary>
    public static DeviceNotice? OfDamage(IJournal journal)
    {
        var words = journal.Findings.Where(finding => finding.Severe).Select(finding => finding.Message).ToList();
        return words.Count == 0 ? null : new DeviceNotice(DeviceNotice.Record, false, string.Join(' ', words))
        {
            Warning = $"{string.Join(' ', words.Select(FirstSentence))} Read the screen.",
        };
    }

    /// <summary>Says it, and remembers what waits for an answer.</summary>
    public void Tell(DeviceNotice notice)
    {
        var now = clock.Now();
        if (notice.Present)
        {
            _unanswered.Remove(notice.Device);
            voice.TryAgainNow();
            return;
        }

        if (notice.Warning is { } warning)
        {
            _unanswered[notice.Device] = new Owed(now.Boot, warning);
        }

        if (IsDue(notice.Device, now))
        {
            Say(notice);
        }
    }

    /// <summary>The same notice for a job that was opened after it was told.</summary>
    public DeviceNotice Again(string device, string detail) => new(device, false, detail)
    {
        Warning = _unanswered.GetValueOrDefault(device)?.Warning,
    };

    /// <summary>
    /// Takes out the names of the notices that this turn settled. Whoever asks for the words again, or shouts a stop, has not met them yet.
    /// </summary>
    public IReadOnlyList<string> SettledBy(Command command, Decision decision, Job? job)
    {
        List<string> settled = job is { Ended: true } ? [.. _unanswered.Keys]
            : command is Answer answer && decision is Accepted && IsMeant(answer.Phrase)
                ? [.. _unanswered.Where(told => answer.Began.Boot > told.Value.Told).Select(told => told.Key)]
                : [];
        foreach (var name in settled)
        {
            _unanswered.Remove(name);
        }

        return settled;
    }

    private static bool IsMeant(Phrase phrase) => phrase != Phrase.SayAgain && !LosingWords.IsLosing(phrase);

    private static string FirstSentence(string words)
    {
        var end = words.IndexOf(". ", StringComparison.Ordinal);
        return end < 0 ? words : words[..(end + 1)];
    }

    private void Say(DeviceNotice notice)
    {
        if (notice.Warning is { } warning)
        {
            voice.Warn(warning);
        }
        else
        {
            voice.Refuse(notice.Detail);
        }
    }

    /// <summary>A loose plug comes and goes: its loss is journalled and shown each time, and said once in a while.</summary>
    private bool IsDue(string device, Moment now)
    {
        if (_said.TryGetValue(device, out var said) && said.BootId == now.BootId && now.Boot - said.Boot < LossAgain)
        {
            return false;
        }

        _said[device] = now;
        return true;
    }

    private sealed record Owed(Ticks Told, string Warning);
}
