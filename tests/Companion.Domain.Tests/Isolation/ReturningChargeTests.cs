using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>Charge that stays, and charge that comes back: neither time nor one low reading is a proof for ever (I1, I3, I5).</summary>
public sealed class ReturningChargeTests
{
    [Theory]
    [InlineData(800, 10, 60, true)] // polypropylene, 0.10 %, published: 0.8 V, computed
    [InlineData(800, 25, 60, true)] // polyester, 0.25 %, published: 2 V, computed
    [InlineData(400, 1500, 60, true)] // aluminium electrolytics, 15 %, as reported: 60 V, computed; equal passes (ISO 6469-4:2015 5.2.2, published)
    [InlineData(400, 1500, 12, false)] // the same against about 12 V (published repair manuals, as reported)
    [InlineData(800, 1500, 60, false)] // aluminium electrolytics, 15 %, as reported: 120 V, computed
    public void What_a_dielectric_gives_back_after_the_proof_is_held_to_the_limit(int charged, int tenThousandths, int limit, bool stands)
    {
        var van = DemoSheets.Van();
        var sheet = van with { HighestVolts = charged, TestPlaces = [.. van.TestPlaces.Select(place => place with { LimitDc = Volts.Of(limit) })] };
        var bench = new JobBench { Sheet = sheet }.Open().Until(NeedKind.Working);

        bench.Say(Phrase.Watching, new Volts(charged * tenThousandths / 10).ToString());

        // Verifying goes on until the work ends: 29 CFR 1910.147(d)(5)(ii), published. The shares are those named beside each case.
        Assert.Equal(stands ? 2 : 0, bench.Job!.Proofs.Count);
        Assert.Equal(stands, bench.Job.Clearance is not null); // the same
    }

    [Fact]
    public void With_an_open_bleed_resistor_elapsed_time_alone_proves_nothing()
    {
        var bench = new JobBench().Open().Until(NeedKind.ProveTester).Pass(3600);

        Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead)); // computed: without a bleed resistor nothing leaves the capacitor
        bench.Read("230");
        bench.Read("400");
        Assert.Equal(AlarmKind.Live, bench.Job!.Alarm!.Kind); // the same
        Assert.Null(bench.Job.Waits[new WaitId("frontwait")].CompletedAt); // the same: the wait begins again
    }
}
