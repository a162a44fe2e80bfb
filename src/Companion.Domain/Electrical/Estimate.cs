namespace Companion.Domain.Electrical;

/// <summary>A figure with its interval at 95 %. Unit as stated where it is given.</summary>
/// <param name="Value">The likeliest value; infinite when there is none.</param>
/// <param name="Lower">The lower end.</param>
/// <param name="Upper">The upper end; infinite when the readings allow any length.</param>
public readonly record struct Estimate(double Value, double Lower, double Upper)
{
    /// <summary>Nothing finite fits.</summary>
    public static readonly Estimate Never = new(double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity);

    /// <summary>The same figure in another unit.</summary>
    /// <param name="divisor">Over zero.</param>
    public Estimate Over(double divisor) => new(Value / divisor, Lower / divisor, Upper / divisor);
}
