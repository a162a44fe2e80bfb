namespace Companion.Domain.Time;

/// <summary>
/// Time as a job counts it (I2). Counted time runs with CLOCK_BOOTTIME while the process is up and ticking; a gap (process down,
/// tablet asleep, loop stalled) adds nothing to it.
/// </summary>
/// <param name="BootId">Running period of the last entry.</param>
/// <param name="LastBoot">CLOCK_BOOTTIME of the last entry.</param>
/// <param name="Counted">Counted time up to the last entry.</param>
/// <param name="AnchorBoot">CLOCK_BOOTTIME of the last anchor.</param>
/// <param name="Asleep">Time spent asleep since the boot, as of the last gap: ordinary anchors keep it, so that many short sleeps add up to one.</param>
/// <param name="LatestWall">The latest wall-clock time ever journalled on this tablet.</param>
/// <param name="WallOffset">Wall clock minus CLOCK_BOOTTIME at the last anchor, to notice a step of the wall clock.</param>
public sealed record JobClock(
    string BootId, Ticks LastBoot, Ticks Counted, Ticks AnchorBoot, Ticks Asleep, DateTimeOffset LatestWall, Ticks WallOffset)
{
    /// <summary>Time since the job was opened, every gap counted in full: what deadlines run by (I2, I10).</summary>
    public Ticks Full { get; private init; }

    /// <summary>Wall clock of the last entry: across a restart of the tablet no other clock tells how long it was off.</summary>
    public DateTimeOffset LastWall { get; private init; }

    /// <summary>Anchors are written this often while a wait or deadline runs.</summary>
    public static readonly Ticks AnchorEvery = Ticks.OfSeconds(10);

    /// <summary>A longer silence than this while a wait runs is a gap: an anchor was missed.</summary>
    public static readonly Ticks LongestStride = Ticks.OfSeconds(15);

    /// <summary>Sleep shorter than this is the error of reading two clocks one after the other.</summary>
    public static readonly Ticks SleepNoise = Ticks.OfMilliseconds(100);

    /// <summary>A wall clock that moves this much against CLOCK_BOOTTIME has been set.</summary>
    public static readonly Ticks WallNoise = Ticks.OfSeconds(2);

    /// <summary>
    /// The tablet is never said to have been off for longer: every check-in is missed long before, and a clock that forgets the date whenever
    /// it is off must not add up centuries.
    /// </summary>
    public static readonly Ticks LongestOff = Ticks.OfSeconds(30L * 24 * 3600);

    private const long MostWall = 250L * 365 * TimeSpan.TicksPerDay;

    /// <summary>The clock of a job that begins now.</summary>
    public static JobClock Begin(Moment moment, DateTimeOffset latestWall) => new(
        moment.BootId, moment.Boot, Ticks.Zero, moment.Boot, moment.Boot - moment.Awake, Later(latestWall, moment.Wall), OffsetOf(moment))
    {
        LastWall = moment.Wall,
    };

    /// <summary>Counted time at a moment of the same running period; a moment of another period adds nothing.</summary>
    public Ticks CountedAt(Moment moment) => Counted + Since(moment);

    /// <summary>Time since the job was opened at a moment, gaps in full; a wall clock that went back across a restart adds nothing.</summary>
    public Ticks FullAt(Moment moment)
    {
        var since = moment.BootId == BootId ? moment.Boot - LastBoot : OffUntil(moment);
        return since > Ticks.Zero ? Full + since : Full;
    }

    /// <summary>The clock after an ordinary entry.</summary>
    public JobClock Advance(Moment moment, bool waitRuns)
    {
        var since = Since(moment);
        var credit = waitRuns && since > LongestStride ? Ticks.Zero : since;
        return this with
        {
            BootId = moment.BootId,
            LastBoot = moment.Boot,
            Counted = Counted + credit,
            Full = FullAt(moment),
            LastWall = moment.Wall,
            LatestWall = Later(LatestWall, moment.Wall),
        };
    }

    /// <summary>The clock after an anchor; a gap counts zero.</summary>
    public JobClock Anchor(Moment moment, Ticks awake, bool gap, bool waitRuns)
    {
        var advanced = gap
            ? this with { LastBoot = moment.Boot, BootId = moment.BootId, Full = FullAt(moment), LastWall = moment.Wall }
            : Advance(moment, waitRuns);
        return advanced with
        {
            AnchorBoot = moment.Boot,
            Asleep = gap ? moment.Boot - awake : Asleep,
            LatestWall = Later(LatestWall, moment.Wall),
            WallOffset = OffsetOf(moment),
        };
    }

    /// <summary>True when the tablet slept since the last gap.</summary>
    public bool SleptBy(Moment moment) => moment.Boot - moment.Awake - Asleep > SleepNoise;

    /// <summary>True when the wall clock was set since the last anchor.</summary>
    public bool WallSteppedBy(Moment moment)
    {
        var moved = OffsetOf(moment) - WallOffset;
        return moved > WallNoise || moved < Ticks.Zero - WallNoise;
    }

    private static Ticks OffsetOf(Moment moment) => WallOf(moment.Wall) - moment.Boot;

    private Ticks OffUntil(Moment moment)
    {
        var off = WallOf(moment.Wall) - WallOf(LastWall);
        return off < LongestOff ? off : LongestOff;
    }

    // A clock that was never set may say any year: outside the 250 years from 1970 the difference no longer matters, and nanoseconds would overflow.
    private static Ticks WallOf(DateTimeOffset wall) =>
        new(Math.Clamp(wall.UtcTicks - DateTimeOffset.UnixEpoch.UtcTicks, 0, MostWall) * 100);

    private static DateTimeOffset Later(DateTimeOffset left, DateTimeOffset right) => left > right ? left : right;

    private Ticks Since(Moment moment)
    {
        var since = moment.BootId == BootId ? moment.Boot - LastBoot : Ticks.Zero;
        return since < Ticks.Zero ? Ticks.Zero : since;
    }
}
