using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>What both directions of PulseAudio's asynchronous interface need (libpulse0): sound format, buffer lengths, faults in words.</summary>
internal static partial class PulseLibrary
{
    internal const string Library = "libpulse.so.0";

    /// <summary>A stream that the server must not move to another device.</summary>
    internal const int DoNotMove = 0x0200;

    /// <summary>The device's latency follows the stream's buffer lengths.</summary>
    internal const int AdjustLatency = 0x2000;

    internal const int Ready = 2;

    private const int LittleEndian16Bit = 3;
    private const string Monitor = ".monitor";

    // What the server offers when no device is left: it takes sound, gives silence, and nobody hears it.
    private const string Nothing = "auto_null";

    internal static SampleFormat Format { get; } = new(LittleEndian16Bit, AudioFormat.SampleRate, 1);

    /// <summary>A missing library is a missing device, not a fault of the program.</summary>
    /// <exception cref="AudioDeviceException">PulseAudio's client library is not installed.</exception>
    internal static void EnsureInstalled(string what)
    {
        if (!NativeLibrary.TryLoad(Library, out _))
        {
            throw new AudioDeviceException($"The {what} cannot be used: PulseAudio's library is not installed (Debian package libpulse0).");
        }
    }

    internal static AudioDeviceException Fault(string what, string? device, int error) =>
        new($"The {what}{(device is null ? string.Empty : $" \"{device}\"")} is not available{(error == 0 ? string.Empty : $" ({Text(error)})")}. "
            + "Check that it is plugged in and switched on; the Companion keeps trying.");

    /// <summary>The device that a ready stream is connected to.</summary>
    internal static string DeviceOf(nint stream) => Marshal.PtrToStringUTF8(DeviceName(stream)) ?? string.Empty;

    /// <summary>Whether this is no device that a person could speak into or hear. A loudspeaker's own monitor is no microphone.</summary>
    internal static bool IsNobodys(string device) =>
        device == Nothing || device.EndsWith(Monitor, StringComparison.Ordinal);

    [LibraryImport(Library, EntryPoint = "pa_stream_is_suspended")]
    internal static partial int IsSuspended(nint stream);

    [LibraryImport(Library, EntryPoint = "pa_stream_new", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial nint NewStream(nint context, string name, in SampleFormat format, nint map);

    [LibraryImport(Library, EntryPoint = "pa_stream_get_state")]
    internal static partial int StreamState(nint stream);

    [LibraryImport(Library, EntryPoint = "pa_stream_disconnect")]
    internal static partial int DisconnectStream(nint stream);

    [LibraryImport(Library, EntryPoint = "pa_stream_unref")]
    internal static partial void FreeStream(nint stream);

    [LibraryImport(Library, EntryPoint = "pa_stream_get_device_name")]
    private static partial nint DeviceName(nint stream);

    [LibraryImport(Library, EntryPoint = "pa_strerror")]
    private static partial nint StrError(int error);

    private static string Text(int error) => Marshal.PtrToStringUTF8(StrError(error)) ?? $"error {error}";

    [StructLayout(LayoutKind.Sequential)]
    internal readonly record struct SampleFormat(int Format, uint Rate, byte Channels);

    /// <summary>Buffer lengths in bytes; <see cref="Default"/> leaves one to the server.</summary>
    [StructLayout(LayoutKind.Sequential)]
    internal readonly record struct BufferAttributes(uint MaxLength, uint TargetLength, uint PreBuffer, uint MinRequest, uint FragmentSize)
    {
        internal const uint Default = uint.MaxValue;
    }
}
