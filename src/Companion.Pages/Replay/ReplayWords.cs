using System.Globalization;
using System.Text.Json;
using Companion.Domain.Events;
using Companion.Review;
using Companion.Review.Listening;
using Companion.Review.Replaying;

namespace Companion.Pages.Replay;

/// <summary>Words and times of a replay's page.</summary>
internal static class ReplayWords
{
    public static string Day(DateTimeOffset wall) => wall.ToString("dddd d MMMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>The tablet's wall clock, with its offset: whoever looks may sit in another zone.</summary>
    public static string Clock(DateTimeOffset wall) => wall.ToString("HH:mm:ss 'UTC'zzz", CultureInfo.InvariantCulture);

    public static string Since(TimeSpan since) => string.Create(
        CultureInfo.InvariantCulture, $"{(int)since.TotalHours}:{since.Minutes:00}:{since.Seconds:00}");

    /// <summary>Whole milliseconds, rounded up: going there shows the entry that stands there.</summary>
    public static long Milliseconds(TimeSpan since) => (since.Ticks + TimeSpan.TicksPerMillisecond - 1) / TimeSpan.TicksPerMillisecond;

    /// <summary>The parts of recorded sound as the script reads them.</summary>
    public static string Stretches(IEnumerable<SoundStretch> stretches) => JsonSerializer.Serialize(
        stretches.Select(stretch => new { sequence = stretch.Sequence, from = stretch.From.TotalMilliseconds, until = stretch.Until.TotalMilliseconds }));

    public static string Name(Landmark kind) => kind.ToString().ToLowerInvariant();

    public static string Several(Landmark kind) => $"{kind}s";

    /// <summary>The key that jumps to the next of a kind; with shift to the one before.</summary>
    public static string Key(Landmark kind) => kind switch
    {
        Landmark.Refusal => "R",
        Landmark.Alert => "A",
        Landmark.Reading => "E",
        Landmark.Step => "S",
        _ => "V",
    };

    public static string? Said(RecordedEntry? entry) => entry?.Happened switch
    {
        PromptSpoken spoken => spoken.Text,
        PromptFailed failed => failed.Text,
        _ => null,
    };
}
