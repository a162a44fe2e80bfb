using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Companion.Voice.Audio;

namespace Companion.Tablet.Rehearsing;

/// <summary>
/// The sound of a rehearsal as a stereo WAV file: the technician on the left, the Companion on the right. Its left channel can be
/// the microphone of another rehearsal. Without a file it keeps nothing.
/// </summary>
public sealed class SoundTrack : IDisposable
{
    private readonly FileStream? _file;
    private short[] _person = new short[AudioFormat.FrameSamples];
    private short[] _prompt = new short[AudioFormat.FrameSamples];
    private int _frames;

    /// <summary>A track that is written to a file, or to none.</summary>
    public SoundTrack(string? path)
    {
        _file = path is null ? null : new FileStream(path, FileMode.Create, FileAccess.Write);
        _file?.Write(Header(0));
    }

    /// <summary>What the technician says in this frame.</summary>
    public void Person(ReadOnlySpan<float> samples)
    {
        for (var n = 0; n < samples.Length; n++)
        {
            _person[n] = (short)Math.Clamp(samples[n] * 32767f, short.MinValue, short.MaxValue);
        }
    }

    /// <summary>What the Companion says in this frame.</summary>
    public void Prompt(ReadOnlySpan<short> samples) => samples.CopyTo(_prompt);

    /// <summary>The frame has ended.</summary>
    public void Next()
    {
        if (_file is not null)
        {
            var both = new short[2 * AudioFormat.FrameSamples];
            for (var n = 0; n < AudioFormat.FrameSamples; n++)
            {
                both[2 * n] = _person[n];
                both[(2 * n) + 1] = _prompt[n];
            }

            _file.Write(MemoryMarshal.AsBytes(both.AsSpan()));
        }

        _frames++;
        _person = new short[AudioFormat.FrameSamples];
        _prompt = new short[AudioFormat.FrameSamples];
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_file is not null)
        {
            _file.Position = 0;
            _file.Write(Header(_frames * AudioFormat.FrameSamples * 2));
            _file.Dispose();
        }
    }

    private static byte[] Header(int samples)
    {
        var header = WavFile.Header(samples);
        BinaryPrimitives.WriteInt16LittleEndian(header.AsSpan(22), 2);
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(28), AudioFormat.SampleRate * 2 * sizeof(short));
        BinaryPrimitives.WriteInt16LittleEndian(header.AsSpan(32), 2 * sizeof(short));
        return header;
    }
}
