using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Reacting;
using Companion.Domain.Speaking;
using Companion.TestKit;

namespace Companion.Domain.Tests.Arriving;

/// <summary>A pack that may burn: what is said of it, and that no temperature ends the stand-off.</summary>
public sealed class QuarantineTests
{
    [Fact]
    public void Leaving_calls_the_fire_service() =>
        Assert.Contains("Call the fire service", StoodOff().LastOf<AlertRaised>().Alert, StringComparison.Ordinal); // NHTSA interim guidance, published

    [Fact]
    public void Whoever_takes_the_vehicle_over_is_told_the_distance_and_that_it_can_burn_later()
    {
        var bench = StoodOff();
        bench.Claim(Phrase.HandOver);
        var said = Assert.IsType<Say>(Assert.Single(React.To(bench.Job!, bench.LastOf<JobHandedOver>(), bench.Time.Now))).Text;

        Assert.Contains("not isolated", said, StringComparison.Ordinal); // NHTSA interim guidance, published
        // 50 ft, clear on all sides or behind a barrier: NHTSA interim guidance, published; SAE J2990, as reported. Rounded up, computed.
        Assert.Contains("16 metres clear on all sides or behind a barrier", said, StringComparison.Ordinal);
        Assert.Contains("a day or more later", said, StringComparison.Ordinal); // 24 h or more: published; weeks in one case: as reported
    }

    [Fact]
    public void A_temperature_that_stands_still_ends_no_stand_off()
    {
        var bench = StoodOff();
        foreach (var degrees in new[] { "24", "24", "24" })
        {
            bench.Say(Phrase.Temperature, degrees);
            bench.Pass(300);
        }

        // NTSB SR-20/01, published: all three crash-damaged packs that were studied ignited again.
        Assert.Contains("It can ignite without warning.", HeatWording.Of(bench.Job!), StringComparison.Ordinal);
        Assert.Equal(NeedKind.StandOff, bench.Job!.Question!.Need.Kind); // the same
        Assert.IsType<Refused>(bench.Say(Phrase.Ready)); // the same
    }

    private static JobBench StoodOff()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(Phrase.LeaveNow);
        bench.Say(Phrase.Affirm);
        return bench;
    }
}
