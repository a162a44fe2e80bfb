using Companion.Domain.Electrical;
using Companion.Domain.Kit;

namespace Companion.Domain.Tests.Equipment;

public sealed class GloveClassTests
{
    // AC: IEC/EN 60903 and ASTM D120, published (class 00 as reported). DC: 1.5 times AC, a maker's figure, as reported.
    [Theory]
    [InlineData("00", 500, 750, 2_500)]
    [InlineData("0", 1_000, 1_500, 5_000)]
    [InlineData("1", 7_500, 11_250, 10_000)]
    [InlineData("2", 17_000, 25_500, 20_000)]
    [InlineData("3", 26_500, 39_750, 30_000)]
    [InlineData("4", 36_000, 54_000, 40_000)]
    public void Each_class_has_the_figures_of_the_standards(string name, int ac, int dc, int proof)
    {
        var found = GloveClass.Find(name)!;
        Assert.Equal(Volts.Of(ac), found.MostAc);
        Assert.Equal(Volts.Of(dc), found.MostDc);
        Assert.Equal(Volts.Of(proof), found.ProofAc);
    }

    [Fact]
    public void There_are_six_classes_and_no_other()
    {
        Assert.Equal(6, GloveClass.All.Length); // IEC/EN 60903, published
        Assert.Null(GloveClass.Find("5"));
        Assert.Null(GloveClass.Find(null));
    }

    [Fact]
    public void The_cautious_policy_is_the_default() => Assert.Equal(RatingPolicy.AcFigure, default);
}
