using System.Runtime.InteropServices;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Tablet.Clocks;

/// <summary>The clocks of the tablet: clock_gettime(2) and the kernel's boot id. Linux only.</summary>
public sealed class TabletClock : IClock
{
    private const int Monotonic = 1;
    private const int BootTime = 7;

    private readonly string _bootId = File.ReadAllText("/proc/sys/kernel/random/boot_id").Trim();

    /// <inheritdoc/>
    public Moment Now() => new(DateTimeOffset.Now, _bootId, Read(BootTime), Read(Monotonic));

    private static Ticks Read(int clock) => GetTime(clock, out var time) == 0
        ? new Ticks(checked((time.Seconds * Ticks.PerSecond) + time.Nanoseconds))
        : throw new InvalidOperationException($"clock_gettime({clock}) failed with {Marshal.GetLastPInvokeError()}.");

    [DllImport("libc", EntryPoint = "clock_gettime", SetLastError = true)]
    private static extern int GetTime(int clock, out TimeSpec time);

    [StructLayout(LayoutKind.Sequential)]
    private struct TimeSpec
    {
        public long Seconds;
        public long Nanoseconds;
    }
}
