using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>
/// One recording stream of PulseAudio. The simple interface will not do here: when a microphone is unplugged the server would move its
/// stream to whatever source is left, the loudspeaker's own monitor included, and a hanging server would never let go. One thread.
/// </summary>
internal sealed partial class PulseRecording : IDisposable
{
    private const string Library = "libpulse.so.0";
    private const uint FragmentBytes = 640;
    private const int DoNotMove = 0x0200;
    private const int AdjustLatency = 0x2000;
    private const int NoAutomaticStart = 0x0001;
    private const int ContextReady = 4;
    private const int StreamReady = 2;
    private const int PollMicroseconds = 50_000;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    // A virtual source that slept takes up to 2 s to begin (measured).
    private static readonly TimeSpan PatienceAtFirst = TimeSpan.FromSeconds(3);

    private readonly string? device;
    private readonly nint loop;
    private readonly nint context;
    private readonly nint stream;
    private bool began;
    private bool disposed;

    /// <summary>Connects to the source.</summary>
    /// <exception cref="AudioDeviceException">It is not there, or the server does not answer within a second.</exception>
    internal PulseRecording(string? server, string? device)
    {
        this.device = device;
        PulseLibrary.EnsureInstalled("microphone");
        loop = NewLoop();
        context = NewContext(LoopInterface(loop), "Companion");
        try
        {
            Check(Connect(context, server, NoAutomaticStart, 0));
            Await(() => ContextState(context), ContextReady);
            var format = new PulseLibrary.SampleFormat(PulseLibrary.LittleEndian16Bit, AudioFormat.SampleRate, 1);
            stream = NewStream(context, "ear", in format, 0);
            var lengths = new PulseLibrary.BufferAttributes(
                PulseLibrary.BufferAttributes.Default, PulseLibrary.BufferAttributes.Default, PulseLibrary.BufferAttributes.Default,
                PulseLibrary.BufferAttributes.Default, FragmentBytes);
            Check(ConnectRecord(stream, device, in lengths, DoNotMove | AdjustLatency));
            Await(() => StreamState(stream), StreamReady);
        }
        catch (AudioDeviceException)
        {
            Dispose();
            throw;
        }
    }

    /// <summary>Waits for the next fragment and adds it.</summary>
    /// <exception cref="AudioDeviceException">The source went away, or gave nothing for a second.</exception>
    internal void ReadInto(List<short> samples, CancellationToken cancellation)
    {
        var since = Stopwatch.GetTimestamp();
        while (!cancellation.IsCancellationRequested)
        {
            Check(Peek(stream, out var data, out var bytes));
            if (bytes > 0)
            {
                began = true;
                Append(samples, data, (int)bytes);
                Check(Drop(stream));
                return;
            }

            if (Stopwatch.GetElapsedTime(since) > (began ? Patience : PatienceAtFirst))
            {
                throw new AudioDeviceException("The microphone has stopped giving sound. Unplug it and plug it in again; the Companion keeps trying.");
            }

            Turn();
            ThrowUnless(StreamState(stream) == StreamReady);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (disposed)
        {
            return;
        }

        disposed = true;
        if (stream != 0)
        {
            _ = DisconnectStream(stream);
            FreeStream(stream);
        }

        Disconnect(context);
        FreeContext(context);
        FreeLoop(loop);
    }

    // A fragment without data is a gap: sound that was lost, which takes its time all the same.
    private static void Append(List<short> samples, nint data, int bytes)
    {
        var count = bytes / sizeof(short);
        if (data == 0)
        {
            samples.AddRange(Enumerable.Repeat((short)0, count));
            return;
        }

        var copy = new short[count];
        Marshal.Copy(data, copy, 0, count);
        samples.AddRange(copy);
    }

    private void Await(Func<int> state, int ready)
    {
        var since = Stopwatch.GetTimestamp();
        while (state() < ready)
        {
            ThrowUnless(Stopwatch.GetElapsedTime(since) < Patience);
            Turn();
        }

        ThrowUnless(state() == ready);
    }

    private void Turn() => ThrowUnless(Prepare(loop, PollMicroseconds) >= 0 && Poll(loop) >= 0 && Dispatch(loop) >= 0);

    private void Check(int result) => ThrowUnless(result >= 0);

    private void ThrowUnless(bool well)
    {
        if (!well)
        {
            throw PulseLibrary.Fault("microphone", device, Error(context));
        }
    }

    [LibraryImport(Library, EntryPoint = "pa_mainloop_new")]
    private static partial nint NewLoop();

    [LibraryImport(Library, EntryPoint = "pa_mainloop_get_api")]
    private static partial nint LoopInterface(nint loop);

    [LibraryImport(Library, EntryPoint = "pa_mainloop_prepare")]
    private static partial int Prepare(nint loop, int microseconds);

    [LibraryImport(Library, EntryPoint = "pa_mainloop_poll")]
    private static partial int Poll(nint loop);

    [LibraryImport(Library, EntryPoint = "pa_mainloop_dispatch")]
    private static partial int Dispatch(nint loop);

    [LibraryImport(Library, EntryPoint = "pa_mainloop_free")]
    private static partial void FreeLoop(nint loop);

    [LibraryImport(Library, EntryPoint = "pa_context_new", StringMarshalling = StringMarshalling.Utf8)]
    private static partial nint NewContext(nint loop, string name);

    [LibraryImport(Library, EntryPoint = "pa_context_connect", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Connect(nint context, string? server, int flags, nint spawn);

    [LibraryImport(Library, EntryPoint = "pa_context_get_state")]
    private static partial int ContextState(nint context);

    [LibraryImport(Library, EntryPoint = "pa_context_errno")]
    private static partial int Error(nint context);

    [LibraryImport(Library, EntryPoint = "pa_context_disconnect")]
    private static partial void Disconnect(nint context);

    [LibraryImport(Library, EntryPoint = "pa_context_unref")]
    private static partial void FreeContext(nint context);

    [LibraryImport(Library, EntryPoint = "pa_stream_new", StringMarshalling = StringMarshalling.Utf8)]
    private static partial nint NewStream(nint context, string name, in PulseLibrary.SampleFormat format, nint map);

    [LibraryImport(Library, EntryPoint = "pa_stream_connect_record", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int ConnectRecord(nint stream, string? device, in PulseLibrary.BufferAttributes lengths, int flags);

    [LibraryImport(Library, EntryPoint = "pa_stream_get_state")]
    private static partial int StreamState(nint stream);

    [LibraryImport(Library, EntryPoint = "pa_stream_peek")]
    private static partial int Peek(nint stream, out nint data, out nuint bytes);

    [LibraryImport(Library, EntryPoint = "pa_stream_drop")]
    private static partial int Drop(nint stream);

    [LibraryImport(Library, EntryPoint = "pa_stream_disconnect")]
    private static partial int DisconnectStream(nint stream);

    [LibraryImport(Library, EntryPoint = "pa_stream_unref")]
    private static partial void FreeStream(nint stream);
}
