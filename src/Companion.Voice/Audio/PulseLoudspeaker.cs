namespace Companion.Voice.Audio;

/// <summary>The loudspeaker through PulseAudio, holding no more than 40 ms so that an alarm is not stuck behind a prompt.</summary>
public sealed class PulseLoudspeaker : ILoudspeaker
{
    private const uint TargetBytes = 1280;

    private readonly string? server;
    private readonly string? device;
    private nint stream;

    /// <summary>Names a sink; nothing is opened yet.</summary>
    /// <param name="device">PulseAudio's sink name; null for the default one.</param>
    /// <param name="server">The server's address; null for the one of the environment (PULSE_SERVER).</param>
    public PulseLoudspeaker(string? device = null, string? server = null)
    {
        this.device = device;
        this.server = server;
    }

    /// <inheritdoc/>
    public void Play(ReadOnlySpan<short> samples)
    {
        EnsureOpen();
        Check(PulseLibrary.Write(stream, samples, (nuint)(samples.Length * sizeof(short)), out var error), error);
    }

    /// <inheritdoc/>
    public void Drain()
    {
        if (stream == 0)
        {
            throw new AudioDeviceException("The loudspeaker closed before the prompt had sounded.");
        }

        Check(PulseLibrary.Drain(stream, out var error), error);
    }

    /// <inheritdoc/>
    public void Discard()
    {
        if (stream != 0)
        {
            // A failure here shows at the next write.
            _ = PulseLibrary.Flush(stream, out _);
        }
    }

    /// <inheritdoc/>
    public bool Probe()
    {
        try
        {
            EnsureOpen();
            _ = PulseLibrary.Latency(stream, out var error);
            Check(error == 0 ? 0 : -1, error);
            return true;
        }
        catch (AudioDeviceException)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (Interlocked.Exchange(ref stream, 0) is not 0 and var open)
        {
            PulseLibrary.Free(open);
        }
    }

    private void EnsureOpen()
    {
        if (stream == 0)
        {
            var lengths = new PulseLibrary.BufferAttributes(
                PulseLibrary.BufferAttributes.Default, TargetBytes, PulseLibrary.BufferAttributes.Default,
                PulseLibrary.BufferAttributes.Default, PulseLibrary.BufferAttributes.Default);
            stream = PulseLibrary.OpenPlayback(server, device, "prompts", lengths);
        }
    }

    private void Check(int result, int error)
    {
        if (result < 0)
        {
            Dispose();
            throw PulseLibrary.Fault("loudspeaker", device, error);
        }
    }
}
