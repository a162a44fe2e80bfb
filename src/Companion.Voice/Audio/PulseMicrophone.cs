namespace Companion.Voice.Audio;

/// <summary>
/// The microphone through PulseAudio, in fragments of 20 ms (without that setting reads bunch up by more than 200 ms, measured).
/// A read can hang when the server does; the ear watches for that from another thread.
/// </summary>
public sealed class PulseMicrophone : IMicrophone
{
    private const uint FragmentBytes = 640;

    private readonly string? server;
    private readonly string? device;
    private readonly short[] raw = new short[AudioFormat.FrameSamples];
    private nint stream;

    /// <summary>Names a source; nothing is opened yet.</summary>
    /// <param name="device">PulseAudio's source name; null for the default one.</param>
    /// <param name="server">The server's address; null for the one of the environment (PULSE_SERVER).</param>
    public PulseMicrophone(string? device = null, string? server = null)
    {
        this.device = device;
        this.server = server;
    }

    /// <inheritdoc/>
    public void Open()
    {
        Dispose();
        var lengths = new PulseLibrary.BufferAttributes(
            PulseLibrary.BufferAttributes.Default, PulseLibrary.BufferAttributes.Default, PulseLibrary.BufferAttributes.Default,
            PulseLibrary.BufferAttributes.Default, FragmentBytes);
        stream = PulseLibrary.Open(server, PulseLibrary.Record, device, "ear", lengths);
    }

    /// <inheritdoc/>
    public bool Read(Span<float> frame, CancellationToken cancellation)
    {
        if (stream == 0)
        {
            Open();
        }

        for (var at = 0; at < frame.Length;)
        {
            var piece = raw.AsSpan(0, Math.Min(raw.Length, frame.Length - at));
            if (PulseLibrary.Read(stream, piece, (nuint)(piece.Length * sizeof(short)), out var error) < 0)
            {
                Dispose();
                throw PulseLibrary.Fault("microphone", device, error);
            }

            for (var n = 0; n < piece.Length; n++)
            {
                frame[at + n] = piece[n] / 32768f;
            }

            at += piece.Length;
        }

        return true;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (Interlocked.Exchange(ref stream, 0) is not 0 and var open)
        {
            PulseLibrary.Free(open);
        }
    }
}
