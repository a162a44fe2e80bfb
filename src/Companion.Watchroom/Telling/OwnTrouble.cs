using System.Collections.Immutable;
using System.Globalization;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Telling;

/// <summary>Something by which the watch room finds that it cannot do its work.</summary>
/// <param name="Name">In one word, for the alert's id.</param>
/// <param name="Patience">So long it must last before somebody is rung about it.</param>
/// <param name="Cause">What is the matter, in plain words; null while nothing is. Returns at once, whatever the disk does.</param>
internal sealed record TroubleSign(string Name, TimeSpan Patience, Func<string?> Cause);

/// <summary>
/// The watch room's own trouble as alerts for the ring-round. They are made in memory from what is amiss now and are in no chain, because the chain may be
/// what fails (I16). The same trouble keeps its id while it lasts; one that comes again within <see cref="Settled"/> is still the same. Used by one thread.
/// </summary>
internal sealed class OwnTrouble(IEnumerable<TroubleSign> signs, Func<WatchView> view, TimeProvider time)
{
    /// <summary>A trouble is over when it has been gone for so long: one that comes and goes must not ring people again and again.</summary>
    public static readonly TimeSpan Settled = TimeSpan.FromMinutes(1);

    private const int MostNamed = 50;
    private readonly Seen[] signs = [.. signs.Select(sign => new Seen(sign))];

    /// <summary>What to tell now: the alert, and whether its cause still lasts.</summary>
    public ImmutableArray<(Alert Alert, bool Lasts)> Look()
    {
        var now = time.GetUtcNow();
        return [.. signs.Where(seen => seen.Look(now)).Select(seen => (AlertOf(seen), seen.Lasts))];
    }

    /// <summary>Made anew at every look, so that whoever is told late is told who is out then.</summary>
    private Alert AlertOf(Seen seen) => new(
        string.Create(CultureInfo.InvariantCulture, $"watchroom:{seen.Sign.Name}:{seen.Since!.Value.ToUnixTimeMilliseconds()}"),
        AlertKind.WatchRoom, Device: "", Job: "", Technician: "", Place: null, seen.Since.Value, Detail(seen.Cause), Taken: null);

    private string Detail(string cause)
    {
        var known = view();
        var threatened = known.Alerts.Where(alert => alert is { Kind: AlertKind.Quiet, Rehearsal: false }).Select(alert => (alert.Device, alert.Job)).ToHashSet();
        var real = known.Watches.Where(watch => !watch.Last.Rehearsal).ToLookup(watch => threatened.Contains((watch.Device, watch.Job)));
        var lines = new List<string> { TellingWords.OneLine(cause), real[false].Any() ? "Out now, as far as the watch room knows; call them:" : "Nobody to be rung is out, as far as the watch room knows." };
        lines.AddRange(real[false].Take(MostNamed).Select(Line));
        if (real[false].Skip(MostNamed).Count() is > 0 and var more)
        {
            lines.Add($"- and {more} more: look at the watch board.");
        }

        lines.AddRange(real[true].Take(MostNamed).Select(watch => $"Do not ring {TellingWords.OneLine(watch.Last.Technician ?? "")}: the quiet word was given. Send help."));
        return string.Join(Environment.NewLine, lines);
    }

    private static string Line(Watch watch)
    {
        var due = watch.Due is { } at ? $"next check-in due at {Clock(at)}" : "no check-in awaited";
        var found = LastPosition.Of(watch) is { } position ? $"; at {Clock(position.Found)} it was at {position.GeoLink}" : string.Empty;
        return TellingWords.OneLine($"- {watch.Last.Technician}, {watch.Last.Place ?? "place not known"}; {due}; tablet last heard at {Clock(watch.LastBeat)}{found}");
    }

    private static string Clock(DateTimeOffset time) => time.UtcDateTime.ToString("HH:mm:ss 'UTC'", CultureInfo.InvariantCulture);

    /// <summary>What is known of one sign.</summary>
    private sealed class Seen(TroubleSign sign)
    {
        private DateTimeOffset last;
        private bool isRipe;

        public TroubleSign Sign => sign;

        public DateTimeOffset? Since { get; private set; }

        public string Cause { get; private set; } = string.Empty;

        public bool Lasts { get; private set; }

        /// <summary>True while there is an alert about it.</summary>
        public bool Look(DateTimeOffset now)
        {
            var cause = sign.Cause();
            Lasts = cause is not null;
            if (cause is not null)
            {
                (Since, last, Cause) = (Since ?? now, now, cause);
                isRipe |= now - Since >= sign.Patience;
            }
            else if (!isRipe || now - last >= Settled)
            {
                (Since, isRipe) = (null, false);
            }

            return isRipe;
        }
    }
}
