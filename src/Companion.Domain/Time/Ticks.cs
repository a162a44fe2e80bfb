namespace Companion.Domain.Time;

/// <summary>A reading of a clock, or a length of time, in whole nanoseconds. Arithmetic is checked; there is no floating point.</summary>
/// <param name="Nanoseconds">The count.</param>
public readonly record struct Ticks(long Nanoseconds) : IComparable<Ticks>
{
    /// <summary>Nanoseconds in a second.</summary>
    public const long PerSecond = 1_000_000_000;

    /// <summary>No time at all.</summary>
    public static readonly Ticks Zero = new(0);

    /// <summary>A length of whole seconds.</summary>
    public static Ticks OfSeconds(long seconds) => new(checked(seconds * PerSecond));

    /// <summary>A length of whole milliseconds.</summary>
    public static Ticks OfMilliseconds(long milliseconds) => new(checked(milliseconds * 1_000_000));

    /// <summary>Whole seconds, rounded up: what is still to wait is never said too short.</summary>
    public long SecondsRoundedUp => Nanoseconds <= 0 ? 0 : (Nanoseconds + PerSecond - 1) / PerSecond;

    /// <summary>Whole seconds, rounded down.</summary>
    public long Seconds => Nanoseconds / PerSecond;

    /// <inheritdoc/>
    public int CompareTo(Ticks other) => Nanoseconds.CompareTo(other.Nanoseconds);

    public static Ticks operator +(Ticks left, Ticks right) => new(checked(left.Nanoseconds + right.Nanoseconds));

    public static Ticks operator -(Ticks left, Ticks right) => new(checked(left.Nanoseconds - right.Nanoseconds));

    public static bool operator <(Ticks left, Ticks right) => left.Nanoseconds < right.Nanoseconds;

    public static bool operator >(Ticks left, Ticks right) => left.Nanoseconds > right.Nanoseconds;

    public static bool operator <=(Ticks left, Ticks right) => left.Nanoseconds <= right.Nanoseconds;

    public static bool operator >=(Ticks left, Ticks right) => left.Nanoseconds >= right.Nanoseconds;
}
