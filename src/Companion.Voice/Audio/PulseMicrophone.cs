namespace Companion.Voice.Audio;

/// <summary>
/// The microphone through PulseAudio, in fragments of 20 ms (without that setting reads bunch up by more than 200 ms, measured).
/// </summary>
public sealed class PulseMicrophone : IMicrophone
{
    private readonly string? server;
    private readonly string? device;
    private readonly List<short> held = [];
    private PulseRecording? recording;

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
        held.Clear();
        recording = new PulseRecording(server, device);
    }

    /// <inheritdoc/>
    public bool Read(Span<float> frame, CancellationToken cancellation)
    {
        if (recording is null)
        {
            Open();
        }

        while (held.Count < frame.Length)
        {
            if (cancellation.IsCancellationRequested)
            {
                return false;
            }

            recording!.ReadInto(held, cancellation);
        }

        for (var n = 0; n < frame.Length; n++)
        {
            frame[n] = held[n] / 32768f;
        }

        held.RemoveRange(0, frame.Length);
        return true;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        recording?.Dispose();
        recording = null;
    }
}
