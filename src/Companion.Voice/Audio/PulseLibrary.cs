using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>The native calls of PulseAudio's simple interface that the loudspeaker uses (libpulse0, libpulse-simple). All of them block.</summary>
internal static partial class PulseLibrary
{
    internal const int LittleEndian16Bit = 3;

    private const int Playback = 1;
    private const string Full = "libpulse.so.0";
    private const string Simple = "libpulse-simple.so.0";

    internal static nint OpenPlayback(string? server, string? device, string stream, BufferAttributes attributes)
    {
        EnsureInstalled("loudspeaker");
        var format = new SampleFormat(LittleEndian16Bit, AudioFormat.SampleRate, 1);
        var handle = New(server, "Companion", Playback, device, stream, in format, 0, in attributes, out var error);
        return handle != 0 ? handle : throw Fault("loudspeaker", device, error);
    }

    /// <summary>A missing library is a missing device, not a fault of the program.</summary>
    /// <exception cref="AudioDeviceException">PulseAudio's client library is not installed.</exception>
    internal static void EnsureInstalled(string what)
    {
        if (!NativeLibrary.TryLoad(Full, out _) || !NativeLibrary.TryLoad(Simple, out _))
        {
            throw new AudioDeviceException($"The {what} cannot be used: PulseAudio's library is not installed (Debian package libpulse0).");
        }
    }

    internal static AudioDeviceException Fault(string what, string? device, int error) =>
        new($"The {what}{(device is null ? string.Empty : $" \"{device}\"")} is not available ({Text(error)}). "
            + "Check that it is plugged in and switched on; the Companion keeps trying.");

    [LibraryImport(Simple, EntryPoint = "pa_simple_write")]
    internal static partial int Write(nint stream, ReadOnlySpan<short> data, nuint bytes, out int error);

    [LibraryImport(Simple, EntryPoint = "pa_simple_drain")]
    internal static partial int Drain(nint stream, out int error);

    [LibraryImport(Simple, EntryPoint = "pa_simple_flush")]
    internal static partial int Flush(nint stream, out int error);

    [LibraryImport(Simple, EntryPoint = "pa_simple_get_latency")]
    internal static partial ulong Latency(nint stream, out int error);

    [LibraryImport(Simple, EntryPoint = "pa_simple_free")]
    internal static partial void Free(nint stream);

    [LibraryImport(Simple, EntryPoint = "pa_simple_new", StringMarshalling = StringMarshalling.Utf8)]
    private static partial nint New(
        string? server, string name, int direction, string? device, string stream, in SampleFormat format, nint map, in BufferAttributes attributes, out int error);

    [LibraryImport(Full, EntryPoint = "pa_strerror")]
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
