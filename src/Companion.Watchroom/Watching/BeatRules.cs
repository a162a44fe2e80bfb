using System.Globalization;
using System.Text;
using Companion.Contracts.Uplink;
using Companion.Journal.Format;

namespace Companion.Watchroom.Watching;

/// <summary>
/// What a beat must keep to before anything believes it, and the form in which it is kept: texts short and clean, times within what can be
/// meant. A text that is too long is cut rather than refused: a call for help must not be lost for it. Pure; any thread.
/// </summary>
public static class BeatRules
{
    /// <summary>Longest interval and margin taken, in seconds: whatever a faulty tablet states, somebody is told within half a day.</summary>
    public const int LongestSeconds = 6 * 60 * 60;

    /// <summary>Greatest age of a check-in or call that is counted; longer than any interval and margin together.</summary>
    public const long OldestMilliseconds = 24L * 60 * 60 * 1000;

    private const int LongestText = 200;
    private const int LongestWord = 32;
    private const int MostItems = 50;

    /// <summary>Why a beat cannot be taken, in plain words; null when it can.</summary>
    public static string? Fault(Beat beat)
    {
        if (beat.Job is { } job && !EntryCodec.IsChainName(job))
        {
            return "The job's name is not one: 1 to 64 letters, digits, dots, dashes and underscores.";
        }

        if (beat.Job is null && (beat.CheckIn is not null || beat.Alerts.Count > 0))
        {
            return "A check-in or a call belongs to a job, and none is named.";
        }

        if (beat.CheckIn is { } checkIn
            && (checkIn.Sequence is < 1 or > EntryCodec.LargestSequence || checkIn.IntervalSeconds < 1 || checkIn.MarginSeconds < 0))
        {
            return "The check-in's sequence, interval or margin is out of range.";
        }

        return beat.Alerts.Any(call => !IsCall(call.Id, beat.Job!)) ? "A call's id is the job, a slash and a sequence." : null;
    }

    /// <summary>The beat as it is kept.</summary>
    public static Beat Kept(Beat beat) => beat with
    {
        Technician = Clean(beat.Technician, LongestText),
        Phase = Clean(beat.Phase, LongestWord),
        Place = Clean(beat.Place, LongestText),
        Where = beat.Where is { } where
            ? where with
            {
                Latitude = Clean(where.Latitude, LongestWord)!,
                Longitude = Clean(where.Longitude, LongestWord)!,
                AgeMilliseconds = Age(where.AgeMilliseconds),
            }
            : null,
        CheckIn = beat.CheckIn is { } checkIn
            ? checkIn with
            {
                AgeMilliseconds = Age(checkIn.AgeMilliseconds),
                IntervalSeconds = Math.Min(checkIn.IntervalSeconds, LongestSeconds),
                MarginSeconds = Math.Min(checkIn.MarginSeconds, LongestSeconds),
                Phase = Clean(checkIn.Phase, LongestWord)!,
            }
            : null,
        Waits = [.. beat.Waits.Take(MostItems).Select(wait => wait with { Name = Clean(wait.Name, LongestText)! })],
        Alerts = [.. beat.Alerts.Take(MostItems).Select(call => call with { AgeMilliseconds = Age(call.AgeMilliseconds) })],
    };

    /// <summary>A text without control characters and halves of surrogate pairs, which the journal does not take, and not too long.</summary>
    internal static string? Clean(string? text, int longest)
    {
        if (text is null)
        {
            return null;
        }

        var clean = new StringBuilder();
        foreach (var rune in text.EnumerateRunes().Take(longest))
        {
            clean.Append(Rune.IsControl(rune) ? " " : rune.ToString());
        }

        return clean.ToString();
    }

    private static long Age(long milliseconds) => Math.Clamp(milliseconds, 0, OldestMilliseconds);

    private static bool IsCall(string id, string job) =>
        id.StartsWith(job + "/", StringComparison.Ordinal)
        && long.TryParse(id[(job.Length + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var sequence)
        && sequence is > 0 and <= EntryCodec.LargestSequence;
}
