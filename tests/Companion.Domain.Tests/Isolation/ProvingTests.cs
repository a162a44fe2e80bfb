using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Kit;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>What proves a tester, and for which vehicles it must be proved (I3).</summary>
public sealed class ProvingTests
{
    // Required above 600 V (29 CFR 1910.333(b)(2)(iv)(B), published) and advised below (the same and NFPA 70E 120.5, as reported): always asked for.
    [Theory]
    [InlineData(800)]
    [InlineData(600)]
    [InlineData(61)]
    public void The_tester_is_proved_before_and_after_whatever_the_vehicle_holds(int highest)
    {
        var bench = new JobBench { Sheet = DemoSheets.Van() with { HighestVolts = highest } }.Open().Until(NeedKind.ProveTester);
        Assert.IsType<Refused>(bench.Read("3"));
        Assert.Null(bench.Job!.Test); // 29 CFR 1910.333(b)(2)(iv)(B), published: before

        bench.Read("230");
        bench.Read("3");
        bench.Read("1");
        bench.Read("2");
        var refused = Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead));
        Assert.Contains("proved again", refused.Reason, StringComparison.Ordinal); // the same, published: after
        Assert.Empty(bench.Job.Proofs);

        bench.Read("230");
        Assert.IsType<Accepted>(bench.Claim(Phrase.ProvedDead));
    }

    [Fact]
    public void A_self_test_of_the_display_proves_no_tester()
    {
        var bench = new JobBench().Open().Until(NeedKind.ProveTester);

        // A self-test button checks the display and not the measuring path, from memory: neither a word nor every segment lit counts.
        Assert.IsType<Refused>(bench.Say(Phrase.Checked));
        Assert.IsType<Refused>(bench.Say(Phrase.Done)); // the same
        Assert.IsType<Refused>(bench.Read("888")); // the same
        Assert.Equal(NeedKind.ProveTester, bench.Job!.Question!.Need.Kind);
    }

    [Fact]
    public void A_job_does_not_open_without_a_known_source()
    {
        var kit = DemoKit.Complete().RemoveAll(item => item.Kind == KitKind.ProvingSource);
        var refused = new JobBench().Do(new OpenJob("job-1", "crew-4", "Ines", "Marit", false, default, default, kit, DemoTime.Start));

        // The proof is made on a known source: 29 CFR 1910.333(b)(2)(iv)(B), published, and from memory.
        Assert.Contains("ProvingSource", Assert.IsType<Refused>(refused).Reason, StringComparison.Ordinal);
    }
}
