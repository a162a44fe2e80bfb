using System.Collections.Immutable;

namespace Companion.Screens.Colours;

/// <summary>
/// The colours of the screens. Every text stands on the surface it is paired with here, at 7:1 or better (WCAG 1.4.6); colour never says
/// anything alone. Red, yellow and blue as in IEC 60073: danger, caution, mandatory.
/// </summary>
/// <param name="Name">Its name on the page.</param>
/// <param name="Pairs">Its pairs.</param>
public sealed record Palette(string Name, ImmutableArray<ColourPair> Pairs)
{
    /// <summary>The least contrast of any text.</summary>
    public const double LeastRatio = 7.0;

    /// <summary>Dark on light, for daylight.</summary>
    public static readonly Palette Day = new("day",
    [
        new("page", "#F4F3EE", "#14181C"),
        new("quiet", "#F4F3EE", "#3F474E"),
        new("card", "#FFFFFF", "#14181C"),
        new("head", "#14181C", "#FFFFFF"),
        new("primary", "#0B3F73", "#FFFFFF"),
        new("second", "#FFFFFF", "#14181C"),
        new("danger", "#8F1010", "#FFFFFF"),
        new("caution", "#FFCC00", "#000000"),
        new("note", "#DCE8F4", "#0A2C50"),
        new("chosen", "#0B3F73", "#FFFFFF"),
        new("off", "#DAD9D3", "#33393E"),
    ]);

    /// <summary>Light on dark, for the night.</summary>
    public static readonly Palette Night = new("night",
    [
        new("page", "#0B0E11", "#F2EFE6"),
        new("quiet", "#0B0E11", "#B9BEC2"),
        new("card", "#171C21", "#F2EFE6"),
        new("head", "#000000", "#F2EFE6"),
        new("primary", "#9CCBFF", "#04101C"),
        new("second", "#171C21", "#F2EFE6"),
        new("danger", "#8F1010", "#FFFFFF"),
        new("caution", "#FFCC00", "#000000"),
        new("note", "#12283D", "#DCEBFA"),
        new("chosen", "#9CCBFF", "#04101C"),
        new("off", "#23292F", "#C9CDD0"),
    ]);

    /// <summary>All palettes; the first is the usual one.</summary>
    public static readonly ImmutableArray<Palette> All = [Day, Night];

    /// <summary>
    /// The stylesheet that names the colours: by day unless the page says night, or says nothing and stands where dark colours are preferred. On paper it
    /// is always day.
    /// </summary>
    public static string Stylesheet() =>
        Rule(":root", "light", Day)
        + Rule(":root[data-palette=\"night\"]", "dark", Night)
        + $"@media screen and (prefers-color-scheme: dark) {{\n{Rule(":root:not([data-palette])", "dark", Night)}}}\n";

    private static string Rule(string selector, string scheme, Palette palette) =>
        $"{selector} {{\n  color-scheme: {scheme};\n"
        + string.Concat(palette.Pairs.Select(pair => $"  --{pair.Name}: {pair.Surface};\n  --{pair.Name}-text: {pair.Text};\n"))
        + "}\n";
}
