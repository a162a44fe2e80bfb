namespace Companion.Voice.Audio;

/// <summary>
/// A microphone that hears what it is given: a WAV file, or a rehearsal's scripted speech. Between the pieces it hears a faint hiss,
/// as a real room has, so that the input does not look dead. <see cref="Say"/> may be called from any thread.
/// </summary>
public sealed class MemoryMicrophone : IMicrophone
{
    /// <summary>Most samples that may wait (10 minutes).</summary>
    public const int MaximumWaiting = 600 * AudioFormat.SampleRate;

    private const float HissLevel = 1e-4f;

    private readonly IPace pace;
    private readonly bool endless;
    private readonly Lock gate = new();
    private readonly Queue<short[]> waiting = new();
    private int waitingSamples;
    private short[] current = [];
    private int at;
    private uint noise = 1;

    /// <summary>A microphone with nothing to hear yet.</summary>
    /// <param name="pace">How time passes while frames are read.</param>
    /// <param name="endless">False: the source ends with its last sample, as a file does.</param>
    public MemoryMicrophone(IPace pace, bool endless = true)
    {
        ArgumentNullException.ThrowIfNull(pace);
        this.pace = pace;
        this.endless = endless;
    }

    /// <summary>A microphone that hears a WAV file once, and then its end.</summary>
    /// <exception cref="InvalidDataException">Not a 16-bit PCM WAV file.</exception>
    public static MemoryMicrophone OfFile(string path, IPace pace)
    {
        var microphone = new MemoryMicrophone(pace, endless: false);
        microphone.Say(WavFile.Read(path));
        return microphone;
    }

    /// <summary>Samples given and not heard yet.</summary>
    public int Waiting
    {
        get
        {
            lock (gate)
            {
                return waitingSamples;
            }
        }
    }

    /// <summary>Adds sound to be heard after all that waits.</summary>
    /// <exception cref="InvalidOperationException">More than <see cref="MaximumWaiting"/> samples would wait.</exception>
    public void Say(short[] samples)
    {
        ArgumentNullException.ThrowIfNull(samples);
        lock (gate)
        {
            if (waitingSamples > MaximumWaiting - samples.Length)
            {
                throw new InvalidOperationException("Too much scripted speech waits to be heard.");
            }

            waiting.Enqueue(samples);
            waitingSamples += samples.Length;
        }
    }

    /// <inheritdoc/>
    public void Open()
    {
    }

    /// <inheritdoc/>
    public bool Read(Span<float> frame, CancellationToken cancellation)
    {
        pace.Pass(AudioFormat.Length(frame.Length), cancellation);
        var any = false;
        lock (gate)
        {
            for (var n = 0; n < frame.Length; n++)
            {
                any |= Next(out frame[n]);
            }
        }

        return any || endless;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    private bool Next(out float sample)
    {
        while (at == current.Length && waiting.TryDequeue(out var next))
        {
            current = next;
            at = 0;
        }

        if (at < current.Length)
        {
            sample = current[at++] / 32768f;
            waitingSamples--;
            return true;
        }

        // A linear congruential generator is random enough for hiss (constants from memory, Numerical Recipes).
        noise = unchecked((noise * 1664525) + 1013904223);
        sample = ((noise >> 8) / (float)(1 << 24) * 2 * HissLevel) - HissLevel;
        return false;
    }
}
