namespace Companion.Domain.Time;

/// <summary>
/// When something happened, on all the clocks that matter. The rules never ask for the time; they are told.
/// </summary>
/// <param name="Wall">Wall clock with offset. It may jump; it never shortens a wait.</param>
/// <param name="BootId">The running period of the operating system. Ticks of different periods cannot be compared.</param>
/// <param name="Boot">CLOCK_BOOTTIME: includes time spent asleep (clock_gettime(2)).</param>
/// <param name="Awake">CLOCK_MONOTONIC: excludes time spent asleep. The difference to <paramref name="Boot"/> shows a sleep.</param>
public readonly record struct Moment(DateTimeOffset Wall, string BootId, Ticks Boot, Ticks Awake);
