using Companion.Domain.Time;

namespace Companion.Domain.CheckIn;

/// <summary>
/// The word of the watch room that a job needs before live parts are exposed (I23). Kept only for jobs of a tablet that has a watch room.
/// </summary>
/// <param name="Heard">When it last answered, by <see cref="JobClock.Full"/>; null when it has not answered in this job.</param>
/// <param name="Arranged">True once somebody recorded who expects a call instead, because there is no signal.</param>
/// <param name="Begun">True once live parts may have been exposed: what was begun is finished without asking for the link again.</param>
public sealed record WatchroomLink(Ticks? Heard, bool Arranged, bool Begun)
{
    /// <summary>Nothing heard yet.</summary>
    public static readonly WatchroomLink None = new(null, false, false);

    /// <summary>An answer older than this does not count.</summary>
    public static readonly Ticks Fresh = Ticks.OfSeconds(60);

    /// <summary>Answers are recorded no more often than this.</summary>
    public static readonly Ticks NoteEvery = Ticks.OfSeconds(30);
}
