using System.Runtime.InteropServices;

namespace Companion.Watchroom.Watching;

/// <summary>
/// The watch room's own clock: the time of day when the program started, and from there CLOCK_BOOTTIME (clock_gettime(2)), which counts
/// sleep and cannot be set. Setting the wall clock moves no deadline while the program runs (I10, I11). Linux only; any thread.
/// </summary>
public sealed class SteadyTime : TimeProvider
{
    private const int BootTime = 7;
    private const long NanosecondsASecond = 1_000_000_000;
    private const long NanosecondsATick = 100;

    private readonly Func<long> bootTime;
    private readonly DateTimeOffset startedAt;
    private readonly long startedTicks;

    /// <summary>Starts from the time of day that another provider tells now.</summary>
    public SteadyTime(TimeProvider? wall = null)
        : this(wall ?? System, BootTimeOfSystem)
    {
    }

    /// <summary>The same on another machine's clocks; nanoseconds since that machine was started.</summary>
    internal SteadyTime(TimeProvider wall, Func<long> bootTime)
    {
        this.bootTime = bootTime;
        startedAt = wall.GetUtcNow();
        startedTicks = GetTimestamp();
    }

    /// <inheritdoc/>
    public override long TimestampFrequency => NanosecondsASecond;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => startedAt.AddTicks((GetTimestamp() - startedTicks) / NanosecondsATick);

    /// <inheritdoc/>
    public override long GetTimestamp() => bootTime();

    private static long BootTimeOfSystem() => GetTime(BootTime, out var time) == 0
        ? checked((time.Seconds * NanosecondsASecond) + time.Nanoseconds)
        : throw new InvalidOperationException($"clock_gettime({BootTime}) failed with {Marshal.GetLastPInvokeError()}.");

    [DllImport("libc", EntryPoint = "clock_gettime", SetLastError = true)]
    private static extern int GetTime(int clock, out TimeSpec time);

    [StructLayout(LayoutKind.Sequential)]
    private struct TimeSpec
    {
        public long Seconds;
        public long Nanoseconds;
    }
}
