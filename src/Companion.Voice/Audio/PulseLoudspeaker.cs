namespace Companion.Voice.Audio;

/// <summary>The loudspeaker through PulseAudio, holding no more than 40 ms so that an alarm is not stuck behind a prompt.</summary>
public sealed class PulseLoudspeaker : ILoudspeaker
{
    private readonly string? server;
    private readonly string? device;
    private PulsePlayback? playback;

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
        try
        {
            Opened().Write(samples);
        }
        catch (AudioDeviceException)
        {
            Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public void Drain()
    {
        if (playback is null)
        {
            throw new AudioDeviceException("The loudspeaker closed before the prompt had sounded.");
        }

        Try(open => open.Drain());
    }

    /// <inheritdoc/>
    public void Discard()
    {
        try
        {
            playback?.Flush();
        }
        catch (AudioDeviceException)
        {
            // It shows at the next prompt.
            Dispose();
        }
    }

    /// <inheritdoc/>
    public void Probe() => Try(open => open.Probe());

    /// <inheritdoc/>
    public void Dispose()
    {
        playback?.Dispose();
        playback = null;
    }

    private PulsePlayback Opened() => playback ??= new PulsePlayback(server, device);

    // A stream that failed once is not used again.
    private void Try(Action<PulsePlayback> act)
    {
        try
        {
            act(Opened());
        }
        catch (AudioDeviceException)
        {
            Dispose();
            throw;
        }
    }
}
