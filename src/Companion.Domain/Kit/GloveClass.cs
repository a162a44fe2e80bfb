using System.Collections.Immutable;
using Companion.Domain.Electrical;

namespace Companion.Domain.Kit;

/// <summary>
/// A class of insulating glove or footwear. AC figures: IEC/EN 60903 and ASTM D120, published (class 00 second-hand). DC figures: 1.5
/// times AC, a maker's figure reported second-hand.
/// </summary>
/// <param name="Name">"00", "0" to "4".</param>
/// <param name="MostAc">Highest use voltage, AC rms.</param>
/// <param name="MostDc">Highest use voltage, DC.</param>
/// <param name="ProofAc">Proof-test voltage, AC rms.</param>
public sealed record GloveClass(string Name, Volts MostAc, Volts MostDc, Volts ProofAc)
{
    /// <summary>All classes, lowest first.</summary>
    public static readonly ImmutableArray<GloveClass> All =
    [
        new("00", Volts.Of(500), Volts.Of(750), Volts.Of(2_500)),
        new("0", Volts.Of(1_000), Volts.Of(1_500), Volts.Of(5_000)),
        new("1", Volts.Of(7_500), Volts.Of(11_250), Volts.Of(10_000)),
        new("2", Volts.Of(17_000), Volts.Of(25_500), Volts.Of(20_000)),
        new("3", Volts.Of(26_500), Volts.Of(39_750), Volts.Of(30_000)),
        new("4", Volts.Of(36_000), Volts.Of(54_000), Volts.Of(40_000)),
    ];

    /// <summary>The class of that name, or null.</summary>
    public static GloveClass? Find(string? name) => All.FirstOrDefault(one => one.Name == name);

    /// <summary>The lowest class that may be used at a DC voltage, or null when none may.</summary>
    public static GloveClass? LowestFor(Volts dc, RatingPolicy policy) => All.FirstOrDefault(one => dc <= one.MostAt(policy));

    /// <summary>The highest DC voltage that it may be used at.</summary>
    public Volts MostAt(RatingPolicy policy) => policy == RatingPolicy.DcColumn ? MostDc : MostAc;
}
