namespace Companion.Tablet.Web;

/// <summary>What the page tells of where the tablet is. Every member must be there and be a number.</summary>
public sealed record PositionReport
{
    /// <summary>Degrees north, WGS 84.</summary>
    public required double Latitude { get; init; }

    /// <summary>Degrees east, WGS 84.</summary>
    public required double Longitude { get; init; }

    /// <summary>The radius in metres that holds the tablet with about 95 %, as the browser says.</summary>
    public required double Accuracy { get; init; }

    /// <summary>How old it was when it was sent, in milliseconds.</summary>
    public required double Age { get; init; }
}
