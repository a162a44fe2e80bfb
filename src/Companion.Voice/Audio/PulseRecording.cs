using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>
/// One recording stream of PulseAudio. When its microphone is unplugged the server may move it to whatever source is left, the loudspeaker's
/// own monitor included: that is a loss. One thread.
/// </summary>
internal sealed partial class PulseRecording : IDisposable
{
    private const uint FragmentBytes = 640;

    // The loudspeaker starts a server where there is none.
    private const int NoAutomaticStart = 0x0001;

    private readonly PulseConnection connection;
    private readonly nint stream;
    private bool began;

    /// <summary>Connects to the source.</summary>
    /// <exception cref="AudioDeviceException">It is not there, or the server does not answer within a second.</exception>
    internal PulseRecording(string? server, string? device)
    {
        connection = new PulseConnection("microphone", device, server, NoAutomaticStart);
        try
        {
            stream = connection.NewStream("ear");
            var lengths = new PulseLibrary.BufferAttributes(
                PulseLibrary.BufferAttributes.Default, PulseLibrary.BufferAttributes.Default, PulseLibrary.BufferAttributes.Default,
                PulseLibrary.BufferAttributes.Default, FragmentBytes);
            connection.Check(ConnectRecord(stream, device, in lengths, connection.Flags));
            connection.AwaitStream(stream);
        }
        catch (AudioDeviceException)
        {
            Dispose();
            throw;
        }
    }

    /// <summary>Waits for the next fragment and adds it. Sound that was lost is not made up for: the ear notices by the time that passed.</summary>
    /// <exception cref="AudioDeviceException">The source went away, or gave nothing for a second.</exception>
    internal void ReadInto(List<short> samples, CancellationToken cancellation)
    {
        var since = Stopwatch.GetTimestamp();
        while (!cancellation.IsCancellationRequested)
        {
            connection.Check(Peek(stream, out var data, out var bytes));
            if (bytes > 0)
            {
                began |= data != 0;
                Append(samples, data, (int)bytes);
                connection.Check(Drop(stream));
                return;
            }

            if (Stopwatch.GetElapsedTime(since) > (began ? PulseConnection.Patience : PulseConnection.PatienceAtFirst))
            {
                throw new AudioDeviceException("The microphone has stopped giving sound. Unplug it and plug it in again; the Companion keeps trying.");
            }

            connection.Turn(stream, wait: true);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => connection.Dispose();

    // A fragment without data is a gap.
    private static void Append(List<short> samples, nint data, int bytes)
    {
        if (data != 0)
        {
            var copy = new short[bytes / sizeof(short)];
            Marshal.Copy(data, copy, 0, copy.Length);
            samples.AddRange(copy);
        }
    }

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_connect_record", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int ConnectRecord(nint stream, string? device, in PulseLibrary.BufferAttributes lengths, int flags);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_peek")]
    private static partial int Peek(nint stream, out nint data, out nuint bytes);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_stream_drop")]
    private static partial int Drop(nint stream);
}
