using Companion.Domain.Time;

namespace Companion.Domain.Tests.Time;

// I2
public sealed class JobClockTests
{
    private static readonly DateTimeOffset Noon = new(2026, 11, 25, 12, 0, 0, TimeSpan.Zero);
    private static readonly JobClock Begun = JobClock.Begin(At(100), Noon);

    [Theory]
    [InlineData(15_000, true, 15_000)]
    [InlineData(15_001, true, 0)]
    [InlineData(15_001, false, 15_001)]
    public void While_a_wait_runs_a_stride_beyond_fifteen_seconds_counts_nothing(long milliseconds, bool waitRuns, long counted)
    {
        var advanced = Begun.Advance(Of(100_000 + milliseconds, "one"), waitRuns);
        Assert.Equal(Ticks.OfMilliseconds(counted), advanced.Counted);
        Assert.Equal(Ticks.OfMilliseconds(100_000 + milliseconds), advanced.LastBoot);
    }

    [Fact]
    public void Another_running_period_and_time_that_ran_back_count_nothing()
    {
        Assert.Equal(Ticks.Zero, Begun.CountedAt(Of(700_000, "two")));
        Assert.Equal(Ticks.Zero, Begun.CountedAt(At(50)));
        Assert.Equal(Ticks.OfSeconds(3), Begun.CountedAt(At(103)));
    }

    [Fact]
    public void A_gap_counts_nothing_and_an_ordinary_anchor_counts_on()
    {
        var moment = At(110);
        Assert.Equal(Ticks.Zero, Begun.Anchor(moment, moment.Awake, gap: true, waitRuns: true).Counted);
        Assert.Equal(Ticks.OfSeconds(10), Begun.Anchor(moment, moment.Awake, gap: false, waitRuns: true).Counted);
    }

    [Fact]
    public void Sleep_is_noticed_beyond_a_tenth_of_a_second_and_once()
    {
        Assert.False(Begun.SleptBy(At(101) with { Awake = Ticks.OfMilliseconds(100_900) }));
        var slept = At(101) with { Awake = Ticks.OfMilliseconds(100_899) };
        Assert.True(Begun.SleptBy(slept));
        Assert.False(Begun.Anchor(slept, slept.Awake, gap: true, waitRuns: false).SleptBy(slept));
        Assert.True(Begun.Anchor(slept, slept.Awake, gap: false, waitRuns: false).SleptBy(slept));
    }

    [Theory]
    [InlineData(2_000, false)]
    [InlineData(2_001, true)]
    [InlineData(-2_000, false)]
    [InlineData(-2_001, true)]
    public void A_wall_clock_that_moves_by_itself_more_than_two_seconds_is_noticed(int milliseconds, bool noticed)
    {
        var moved = At(101);
        Assert.Equal(noticed, Begun.WallSteppedBy(moved with { Wall = moved.Wall.AddMilliseconds(milliseconds) }));
    }

    [Fact]
    public void The_latest_wall_time_never_goes_back()
    {
        Assert.Equal(Noon.AddHours(1), JobClock.Begin(At(100), Noon.AddHours(1)).LatestWall);
        var back = Begun.Advance(At(101) with { Wall = Noon.AddYears(-1) }, false);
        Assert.Equal(Noon.AddSeconds(100), back.LatestWall);
        Assert.Equal(Noon.AddSeconds(105), back.Advance(At(105), false).LatestWall);
    }

    private static Moment At(long seconds) => Of(seconds * 1000, "one");

    private static Moment Of(long milliseconds, string boot) =>
        new(Noon.AddMilliseconds(milliseconds), boot, Ticks.OfMilliseconds(milliseconds), Ticks.OfMilliseconds(milliseconds));
}
