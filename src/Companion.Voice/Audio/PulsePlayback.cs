using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>
/// One playback stream of PulseAudio, holding no more than 40 ms. A loudspeaker that is unplugged, suspended, hangs or is replaced by another
/// is a loss: what was playing then has not been heard to its end. One thread.
/// </summary>
internal sealed partial class PulsePlayback : IDisposable
{
    private const uint TargetBytes = 1280;

    // 40 ms of our own, and what a wireless or virtual loudspeaker holds.
    private static readonly TimeSpan DrainPatience = TimeSpan.FromSeconds(1.5);

    private readonly PulseConnection connection;
    private readonly nint stream;
    private bool began;

    /// <summary>Connects to the sink.</summary>
    /// <exception cref="AudioDeviceException">It is not there, or the server does not answer within a second.</exception>
    internal PulsePlayback(string? server, string? device)
    {
        connection = new PulseConnection("loudspeaker", device, server);
        try
        {
            stream = connection.NewStream("prompts");
            var lengths = new PulseLibrary.BufferAttributes(
                PulseLibrary.BufferAttributes.Default, TargetBytes, PulseLibrary.BufferAttributes.Default,
                PulseLibrary.BufferAttributes.Default, PulseLibrary.BufferAttributes.Default);
            connection.Check(ConnectPlayback(stream, device, in lengths, connection.Flags, 0, 0));
            connection.AwaitStream(stream);
        }
        catch (AudioDeviceException)
        {
            Dispose();
            throw;
        }
    }

    /// <summary>Hands samples over as the sink takes them.</summary>
    /// <exception cref="AudioDeviceException">The sink went away, or took nothing for a second.</exception>
    internal void Write(ReadOnlySpan<short> samples)
    {
        var since = Stopwatch.GetTimestamp();
        var waited = false;
        while (samples.Length > 0)
        {
            Look();
            var room = (int)(Writable(stream) / sizeof(short));
            if (room > 0)
            {
                var count = Math.Min(room, samples.Length);
                connection.Check(Write(stream, samples[..count], (nuint)(count * sizeof(short)), 0, 0, 0));
                samples = samples[count..];
                began |= waited;
                since = Stopwatch.GetTimestamp();
                continue;
            }

            connection.ThrowUnless(Stopwatch.GetElapsedTime(since) < (began ? PulseConnection.Patience : PulseConnection.PatienceAtFirst));
            connection.Turn(stream, wait: true);
            waited = true;
        }

        Look();
    }

    /// <summary>Waits until all that was handed over has sounded.</summary>
    /// <exception cref="AudioDeviceException">The sink went away first, or hangs.</exception>
    internal void Drain()
    {
        connection.Complete(stream, Drain(stream, 0, 0), began ? DrainPatience : PulseConnection.PatienceAtFirst);
        began = true;
        Look();
    }

    /// <summary>Drops what has not sounded.</summary>
    internal void Flush() => connection.Complete(stream, Flush(stream, 0, 0), PulseConnection.Patience);

    /// <summary>Asks the server, which must answer.</summary>
    /// <exception cref="AudioDeviceException">The sink is not there any more, or the server does not answer.</exception>
    internal void Probe()
    {
        connection.Complete(stream, UpdateTiming(stream, 0, 0), PulseConnection.Patience);
        Look();
    }

    /// <inheritdoc/>
    public void Dispose() => connection.Dispose();

    private void Look()
    {
        connection.Turn(stream, wait: false);
        connection.ThrowUnless(PulseLibrary.IsSuspended(stream) != 1);
    }

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_connect_playback", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int ConnectPlayback(
        nint stream, string? device, in PulseLibrary.BufferAttributes lengths, int flags, nint volume, nint synchronisedWith);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_writable_size")]
    private static partial nuint Writable(nint stream);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_write")]
    private static partial int Write(nint stream, ReadOnlySpan<short> data, nuint bytes, nint free, long offset, int seek);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_drain")]
    private static partial nint Drain(nint stream, nint done, nint data);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_flush")]
    private static partial nint Flush(nint stream, nint done, nint data);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_update_timing_info")]
    private static partial nint UpdateTiming(nint stream, nint done, nint data);
}
