using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>A loudspeaker that writes a WAV file, prompt after prompt, at the given pace. The header is right after every drain.</summary>
public sealed class WavLoudspeaker : ILoudspeaker
{
    private readonly FileStream file;
    private readonly IPace pace;
    private int samplesWritten;

    /// <summary>Creates the file, over an old one.</summary>
    public WavLoudspeaker(string path, IPace pace)
    {
        ArgumentNullException.ThrowIfNull(pace);
        this.pace = pace;
        file = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.Read);
        file.Write(WavFile.Header(0));
    }

    /// <inheritdoc/>
    public void Play(ReadOnlySpan<short> samples)
    {
        try
        {
            file.Write(MemoryMarshal.AsBytes(samples));
        }
        catch (IOException fault)
        {
            throw new AudioDeviceException($"The prompts cannot be written to {file.Name}: {fault.Message}");
        }

        samplesWritten += samples.Length;
        pace.Pass(AudioFormat.Length(samples.Length), CancellationToken.None);
    }

    /// <inheritdoc/>
    public void Drain()
    {
        file.Position = 0;
        file.Write(WavFile.Header(samplesWritten));
        file.Position = file.Length;
        file.Flush();
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
        if (file.CanWrite)
        {
            Drain();
        }

        file.Dispose();
    }
}
