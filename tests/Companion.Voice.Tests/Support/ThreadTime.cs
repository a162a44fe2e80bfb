using System.Runtime.InteropServices;

namespace Companion.Voice.Tests.Support;

/// <summary>Processor time used by this thread, which a busy machine does not lengthen (CLOCK_THREAD_CPUTIME_ID, clock_gettime(2)).</summary>
public static partial class ThreadTime
{
    private const int ThreadClock = 3;

    public static TimeSpan Used()
    {
        Assert.Equal(0, GetTime(ThreadClock, out var time));
        return TimeSpan.FromSeconds(time.Seconds) + TimeSpan.FromMicroseconds(time.Nanoseconds / 1000.0);
    }

    [LibraryImport("libc", EntryPoint = "clock_gettime")]
    private static partial int GetTime(int clock, out Time time);

    [StructLayout(LayoutKind.Sequential)]
    private readonly record struct Time(long Seconds, long Nanoseconds);
}
