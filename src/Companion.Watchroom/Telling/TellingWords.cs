using System.Globalization;
using System.Text;
using Companion.Watchroom.Watching;
using Companion.Watchroom.Web;

namespace Companion.Watchroom.Telling;

/// <summary>What an alert says, on the board and outside. Plain sentences that say what to do.</summary>
internal static class TellingWords
{
    /// <summary>Stands in every text of a quiet alert.</summary>
    public const string DoNotRing =
        "Do not ring the technician about this, and do not call the tablet: somebody may stand beside them. Nothing of it shows on the tablet.";

    /// <summary>What has happened, in a few words.</summary>
    public static string Title(AlertKind kind) => kind switch
    {
        AlertKind.Overdue => "Check-in overdue",
        AlertKind.SilentLink => "Nothing heard of the tablet",
        AlertKind.Help => "Call for help",
        AlertKind.Quiet => "Quiet word",
        AlertKind.WatchRoom => "The watch room itself fails",
        _ => "Stop or live warning not answered",
    };

    /// <summary>What to do now.</summary>
    public static string ToDo(AlertKind kind) => kind switch
    {
        AlertKind.Overdue => "Take the alert, ring the technician at once, and send help when nobody answers.",
        AlertKind.SilentLink => "Take the alert and ring the technician. They may be well and without signal; go on as for overdue when nobody answers.",
        AlertKind.Help => "Take the alert and send help at once; then ring the technician.",
        AlertKind.Quiet => "Take the alert and send help without telling the technician. " + DoNotRing,
        AlertKind.WatchRoom => "Ring everybody who is out now, and again and again until the watch room works: a check-in may not count, and an alert may not come.",
        _ => "Take the alert and ring the technician at once: they may not have heard the warning.",
    };

    /// <summary>That nobody watched for a while.</summary>
    public static string Blind(BlindPeriod blind) =>
        $"The watch room was blind from {Wording.Day(blind.From)} to {Wording.Day(blind.To)}, {Wording.Span(blind.To - blind.From)}: look at everybody who is out.";

    /// <summary>One line for a subject.</summary>
    public static string Subject(Alert alert) => alert.Kind == AlertKind.WatchRoom ? Title(alert.Kind) : OneLine($"{Title(alert.Kind)}: {alert.Technician}");

    /// <summary>The whole text.</summary>
    /// <param name="alert">The alert.</param>
    /// <param name="position">Where its tablet was found last; null when that is not known.</param>
    /// <param name="now">When this is sent: the age of the position counts to then.</param>
    public static string Body(Alert alert, LastPosition? position, DateTimeOffset now) =>
        alert.Kind == AlertKind.WatchRoom ? OwnBody(alert) : TabletBody(alert, position, now);

    /// <summary>What came from a tablet may not begin a line of its own: a text must not be able to speak for the watch room.</summary>
    public static string OneLine(string text) => string.Concat(text.Select(letter => char.IsControl(letter) || letter is '\u2028' or '\u2029' || IsTurning(letter) ? ' ' : letter));

    /// <summary>Letters that turn the direction of what follows, so that it reads as something else (Unicode, annex 9).</summary>
    private static bool IsTurning(char letter) => letter is (>= '\u202a' and <= '\u202e') or (>= '\u2066' and <= '\u2069');

    private static string OwnBody(Alert alert) => new StringBuilder()
        .AppendLine(Title(alert.Kind) + ".")
        .AppendLine(ToDo(alert.Kind))
        .AppendLine()
        .AppendLine($"Since: {Time(alert.Raised)}")
        .AppendLine(alert.Detail)
        .AppendLine()
        .AppendLine("Nobody can take this alert: it ends when its cause ends, and until then everybody on the ring-round is told.").ToString();

    private static string TabletBody(Alert alert, LastPosition? position, DateTimeOffset now)
    {
        var text = new StringBuilder()
            .AppendLine(Title(alert.Kind) + ".")
            .AppendLine(ToDo(alert.Kind))
            .AppendLine()
            .AppendLine($"Technician: {OneLine(alert.Technician)}")
            .AppendLine($"Place: {OneLine(alert.Place ?? "not known")}");
        if (position is not null)
        {
            text.AppendLine(Words(position, now)).AppendLine($"Map: {position.GeoLink}");
        }

        text.AppendLine($"Job: {OneLine(alert.Job)}")
            .AppendLine($"Raised: {Time(alert.Raised)}");
        if (alert.Detail.Length > 0)
        {
            text.AppendLine().AppendLine(OneLine(alert.Detail));
        }

        return text.AppendLine().AppendLine("Open the watch board to take it. Whoever takes it answers for it.").ToString();
    }

    /// <summary>"Position: 52.20510, -0.13640, within 12 m, found 4 s before this was sent."</summary>
    private static string Words(LastPosition position, DateTimeOffset now)
    {
        var place = $"{position.Latitude}, {position.Longitude}, within {position.AccuracyMetres} m, found {Wording.Span(position.AgeAt(now))} before this was sent";
        return position.IsOldAt(now) ? $"Old position: {place}. Whoever was there may have left." : $"Position: {place}.";
    }

    private static string Time(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd HH:mm:ss 'UTC'", CultureInfo.InvariantCulture);
}
