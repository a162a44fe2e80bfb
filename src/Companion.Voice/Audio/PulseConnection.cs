using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>
/// A connection to PulseAudio for one stream, with a loop that the owner turns and that never waits longer than asked. The simple interface
/// will not do: a hanging server would never let go, and it does not tell when the server moves a stream to another device. One thread.
/// </summary>
internal sealed partial class PulseConnection : IDisposable
{
    /// <summary>So long may the server take to answer, or a stream stand still.</summary>
    internal static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    /// <summary>So long may a stream stand still before its first sound: a virtual device that slept takes up to 2 s to begin (measured).</summary>
    internal static readonly TimeSpan PatienceAtFirst = TimeSpan.FromSeconds(3);

    private const int ContextReady = 4;
    private const int PollMicroseconds = 50_000;

    private readonly string what;
    private readonly string? device;
    private readonly nint loop;
    private readonly nint context;
    private nint stream;
    private string? inUse;
    private bool disposed;

    /// <summary>Connects to the server.</summary>
    /// <param name="what">"microphone" or "loudspeaker", for the messages.</param>
    /// <param name="device">The device that was asked for; null for the default one.</param>
    /// <param name="server">The server's address; null for the one of the environment.</param>
    /// <param name="flags">PulseAudio's connection flags.</param>
    /// <exception cref="AudioDeviceException">The server is not there or does not answer.</exception>
    internal PulseConnection(string what, string? device, string? server, int flags = 0)
    {
        this.what = what;
        this.device = device;
        PulseLibrary.EnsureInstalled(what);
        loop = NewLoop();
        context = NewContext(LoopInterface(loop), "Companion");
        try
        {
            Check(Connect(context, server, flags, 0));
            Await(() => ContextState(context), ContextReady, Patience);
        }
        catch (AudioDeviceException)
        {
            Dispose();
            throw;
        }
    }

    /// <summary>A stream on its default device may be moved by the server, which we notice; one on a named device may not.</summary>
    internal int Flags => PulseLibrary.AdjustLatency | (device is null ? 0 : PulseLibrary.DoNotMove);

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
            _ = PulseLibrary.DisconnectStream(stream);
            PulseLibrary.FreeStream(stream);
        }

        Disconnect(context);
        FreeContext(context);
        FreeLoop(loop);
    }

    /// <summary>The one stream, in the format of all sound here; it goes with the connection.</summary>
    internal nint NewStream(string name) => stream = PulseLibrary.NewStream(context, name, PulseLibrary.Format, 0);

    /// <summary>Waits until a stream is ready, and keeps in mind which device it is on.</summary>
    /// <exception cref="AudioDeviceException">It does not become ready, or the server gave it a device that is nobody's.</exception>
    internal void AwaitStream(nint stream)
    {
        Await(() => PulseLibrary.StreamState(stream), PulseLibrary.Ready, Patience);
        inUse = PulseLibrary.DeviceOf(stream);
        if (device is null && PulseLibrary.IsNobodys(inUse))
        {
            throw new AudioDeviceException($"There is no {what}. Plug one in or switch it on; the Companion keeps trying.");
        }
    }

    /// <summary>Turns the loop once, waiting for something to happen only when told to, and looks whether the stream is well.</summary>
    /// <exception cref="AudioDeviceException">The server or the device went away, or another device took its place.</exception>
    internal void Turn(nint stream, bool wait)
    {
        Turn(wait);
        ThrowUnless(PulseLibrary.StreamState(stream) == PulseLibrary.Ready);
        if (PulseLibrary.DeviceOf(stream) != inUse)
        {
            throw new AudioDeviceException(
                $"The {what} is gone and another one may take its place. Plug yours in again, or use the other one; the screen tells when it works.");
        }
    }

    /// <summary>Waits until an operation of the server's has ended, and gives it back.</summary>
    /// <exception cref="AudioDeviceException">It was refused or took too long.</exception>
    internal void Complete(nint stream, nint operation, TimeSpan patience)
    {
        ThrowUnless(operation != 0);
        try
        {
            var since = Stopwatch.GetTimestamp();
            while (OperationState(operation) == 0)
            {
                ThrowUnless(Stopwatch.GetElapsedTime(since) < patience);
                Turn(stream, wait: true);
            }
        }
        finally
        {
            FreeOperation(operation);
        }
    }

    /// <summary>Throws when a call of the library failed.</summary>
    internal void Check(int result) => ThrowUnless(result >= 0);

    /// <summary>Throws the library's last fault in words.</summary>
    internal void ThrowUnless(bool well)
    {
        if (!well)
        {
            throw PulseLibrary.Fault(what, device, Error(context));
        }
    }

    private void Await(Func<int> state, int ready, TimeSpan patience)
    {
        var since = Stopwatch.GetTimestamp();
        while (state() < ready)
        {
            ThrowUnless(Stopwatch.GetElapsedTime(since) < patience);
            Turn(wait: true);
        }

        ThrowUnless(state() == ready);
    }

    private void Turn(bool wait) =>
        ThrowUnless(Prepare(loop, wait ? PollMicroseconds : 0) >= 0 && Poll(loop) >= 0 && Dispatch(loop) >= 0);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_mainloop_new")]
    private static partial nint NewLoop();

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_mainloop_get_api")]
    private static partial nint LoopInterface(nint loop);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_mainloop_prepare")]
    private static partial int Prepare(nint loop, int microseconds);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_mainloop_poll")]
    private static partial int Poll(nint loop);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_mainloop_dispatch")]
    private static partial int Dispatch(nint loop);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_mainloop_free")]
    private static partial void FreeLoop(nint loop);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_context_new", StringMarshalling = StringMarshalling.Utf8)]
    private static partial nint NewContext(nint loop, string name);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_context_connect", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Connect(nint context, string? server, int flags, nint spawn);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_context_get_state")]
    private static partial int ContextState(nint context);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_context_errno")]
    private static partial int Error(nint context);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_context_disconnect")]
    private static partial void Disconnect(nint context);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_context_unref")]
    private static partial void FreeContext(nint context);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_operation_get_state")]
    private static partial int OperationState(nint operation);

    [LibraryImport(PulseLibrary.Library, EntryPoint = "pa_operation_unref")]
    private static partial void FreeOperation(nint operation);
}
