using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>The latest beat of a watch, as it is written down: too frequent for the journal, and too useful to lose with the process.</summary>
/// <param name="Device">The tablet.</param>
/// <param name="Job">The job.</param>
/// <param name="Rehearsal">True for a rehearsal.</param>
/// <param name="Received">When the tablet was last heard.</param>
/// <param name="Silences">How often it had fallen silent by then.</param>
/// <param name="Silent">True when it was silent then.</param>
/// <param name="Beat">What it said last of this job.</param>
internal sealed record BeatMark(string Device, string Job, bool Rehearsal, DateTimeOffset Received, long Silences, bool Silent, Beat Beat)
{
    /// <summary>The mark of a watch as it is.</summary>
    public static BeatMark Of(Watched watched) => new(
        watched.Id.Device, watched.Id.Job, watched.Id.Rehearsal, watched.Shown.LastBeat, watched.Silences, watched.IsSilent, watched.Shown.Last);

    /// <summary>The book with what the mark knows beyond it. A mark older than the latest silence does not end it; a silence that only the mark knows was not recorded, and is raised again.</summary>
    public WatchBook Restore(WatchBook book, TimeSpan silentAfter) =>
        book.Find(new WatchId(Device, Job, Rehearsal)) is { } watched && Received >= watched.Shown.LastBeat
            ? book.With(watched with
            {
                IsSilent = Silences == watched.Silences ? Silent : Silences < watched.Silences && watched.IsSilent,
                Shown = watched.Shown with { Last = Beat, LastBeat = Received, SilentFrom = book.NotInGrace(Received + silentAfter) },
            })
            : book;
}
