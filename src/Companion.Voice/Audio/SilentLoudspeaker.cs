namespace Companion.Voice.Audio;

/// <summary>A loudspeaker that makes no sound and takes as long as a real one would at the given pace.</summary>
public sealed class SilentLoudspeaker : ILoudspeaker
{
    private readonly IPace pace;

    /// <summary>A silent loudspeaker.</summary>
    public SilentLoudspeaker(IPace pace)
    {
        ArgumentNullException.ThrowIfNull(pace);
        this.pace = pace;
    }

    /// <inheritdoc/>
    public void Play(ReadOnlySpan<short> samples) => pace.Pass(AudioFormat.Length(samples.Length), CancellationToken.None);

    /// <inheritdoc/>
    public void Drain()
    {
    }

    /// <inheritdoc/>
    public void Discard()
    {
    }

    /// <inheritdoc/>
    public void Probe()
    {
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }
}
