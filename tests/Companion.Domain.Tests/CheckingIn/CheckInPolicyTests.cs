using System.Collections.Immutable;
using Companion.Domain.CheckIn;
using Companion.TestKit;

namespace Companion.Domain.Tests.CheckingIn;

public sealed class CheckInPolicyTests
{
    private static CheckInPolicy With(Func<PhaseTimes, PhaseTimes> change) => DemoWatch.ByPhase() with
    {
        Times = [.. DemoWatch.ByPhase().Times.Select(times => times.Phase == WorkPhase.Exposed ? change(times) : times)],
    };

    [Fact]
    public void A_whole_arrangement_has_no_fault() => Assert.Empty(DemoWatch.ByPhase().Faults());

    [Fact]
    public void A_phase_without_times_and_one_with_two_lines_are_faults()
    {
        Assert.Contains("exposed", Assert.Single((DemoWatch.ByPhase() with { Times = DemoWatch.ByPhase().Times.RemoveAt(2) }).Faults()), StringComparison.Ordinal);
        Assert.Single((DemoWatch.ByPhase() with { Times = DemoWatch.ByPhase().Times.Add(new(WorkPhase.Working, 600, 300, 90)) }).Faults());
    }

    [Theory]
    [InlineData(60, 60, 30, 0)]
    [InlineData(14400, 14400, 1800, 0)]
    [InlineData(59, 59, 30, 2)]
    [InlineData(14401, 14400, 60, 1)]
    [InlineData(400, 401, 60, 1)]
    [InlineData(400, 59, 60, 1)]
    [InlineData(400, 400, 29, 1)]
    [InlineData(400, 400, 1801, 1)]
    [InlineData(400, 400, 1800, 0)]
    public void Times_beyond_the_borders_are_faults(int interval, int alone, int margin, int faults) =>
        Assert.Equal(faults, With(times => times with { IntervalSeconds = interval, AloneSeconds = alone, MarginSeconds = margin }).Faults().Count());

    [Fact]
    public void It_is_not_asked_for_as_long_before_as_the_interval_is()
    {
        Assert.Empty((DemoWatch.ByPhase() with { LeadSeconds = 199 }).Faults());
        Assert.Single((DemoWatch.ByPhase() with { LeadSeconds = 200 }).Faults());
        Assert.Equal(5, (DemoWatch.ByPhase() with { LeadSeconds = -1 }).Faults().Count());
    }
}
