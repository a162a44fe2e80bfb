using Companion.Screens.Colours;

namespace Companion.Screens.Tests;

/// <summary>Expected ratios: WCAG 2.2 relative luminance, computed.</summary>
public sealed class ColourTests
{
    public static IEnumerable<object[]> Pairs =>
        Palette.All.SelectMany(palette => palette.Pairs.Select(pair => new object[] { palette.Name, pair }));

    [Theory]
    [InlineData("#595959", "#FFFFFF", 7.005)]
    [InlineData("#5A5A5A", "#FFFFFF", 6.897)]
    [InlineData("#FFCC00", "#000000", 13.889)]
    [InlineData("#FF0000", "#FFFFFF", 3.998)]
    [InlineData("#000000", "#FFFFFF", 21)]
    public void Contrast_is_computed_as_published(string one, string other, double ratio)
    {
        Assert.Equal(ratio, Contrast.Ratio(one, other), 3);
        Assert.Equal(ratio, Contrast.Ratio(other, one), 3);
    }

    [Theory]
    [MemberData(nameof(Pairs))]
    public void Every_text_stands_out_seven_to_one(string palette, ColourPair pair) =>
        Assert.True(Contrast.Ratio(pair.Surface, pair.Text) >= Palette.LeastRatio, $"{palette} {pair.Name}: {Contrast.Ratio(pair.Surface, pair.Text):F2}");

    [Fact]
    public void Both_palettes_name_the_same_colours() =>
        Assert.Equal(Palette.Day.Pairs.Select(pair => pair.Name), Palette.Night.Pairs.Select(pair => pair.Name));
}
