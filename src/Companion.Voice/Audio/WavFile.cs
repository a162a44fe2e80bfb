using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>Reads and writes 16-bit PCM WAV (RIFF) files. Reading takes any rate and the first channel, and gives 16 kHz.</summary>
public static class WavFile
{
    /// <summary>Bytes before the first sample of a file that is written here.</summary>
    public const int HeaderBytes = 44;

    private const int MaximumBytes = 512 * 1024 * 1024;

    /// <summary>The file's first channel at 16 kHz.</summary>
    /// <exception cref="InvalidDataException">Not a 16-bit PCM WAV file, or longer than half a gigabyte.</exception>
    public static short[] Read(string path)
    {
        var length = new FileInfo(path).Length;
        return length <= MaximumBytes ? Parse(File.ReadAllBytes(path)) : throw new InvalidDataException($"{path} is too long.");
    }

    /// <summary>The same for bytes already read, a pipe's for instance, whose header may not know the length.</summary>
    /// <exception cref="InvalidDataException">Not 16-bit PCM WAV.</exception>
    public static short[] Parse(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 12 || !bytes[..4].SequenceEqual("RIFF"u8) || !bytes[8..12].SequenceEqual("WAVE"u8))
        {
            throw new InvalidDataException("This is not a WAV file.");
        }

        int channels = 0, rate = 0, bits = 0;
        for (var at = 12; at + 8 <= bytes.Length;)
        {
            var name = bytes.Slice(at, 4);
            var stated = BinaryPrimitives.ReadUInt32LittleEndian(bytes[(at + 4)..]);
            var body = bytes.Slice(at + 8, (int)Math.Min(stated, (uint)(bytes.Length - at - 8)));
            if (name.SequenceEqual("fmt "u8) && body.Length >= 16)
            {
                channels = BinaryPrimitives.ReadInt16LittleEndian(body[2..]);
                rate = BinaryPrimitives.ReadInt32LittleEndian(body[4..]);
                bits = BinaryPrimitives.ReadInt16LittleEndian(body[14..]);
            }
            else if (name.SequenceEqual("data"u8))
            {
                return Samples(body, channels, rate, bits);
            }

            at = checked(at + 8 + body.Length + (body.Length & 1));
        }

        throw new InvalidDataException("This WAV file holds no sound.");
    }

    /// <summary>Writes a whole file.</summary>
    public static void Write(string path, ReadOnlySpan<short> samples)
    {
        using var file = File.Create(path);
        file.Write(Header(samples.Length));
        file.Write(MemoryMarshal.AsBytes(samples));
    }

    /// <summary>The header of a 16 kHz mono file with so many samples.</summary>
    public static byte[] Header(int samples)
    {
        var header = new byte[HeaderBytes];
        var bytes = checked(samples * sizeof(short));
        "RIFF"u8.CopyTo(header);
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(4), checked(bytes + HeaderBytes - 8));
        "WAVEfmt "u8.CopyTo(header.AsSpan(8));
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(16), 16);
        BinaryPrimitives.WriteInt16LittleEndian(header.AsSpan(20), 1);
        BinaryPrimitives.WriteInt16LittleEndian(header.AsSpan(22), 1);
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(24), AudioFormat.SampleRate);
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(28), AudioFormat.SampleRate * sizeof(short));
        BinaryPrimitives.WriteInt16LittleEndian(header.AsSpan(32), sizeof(short));
        BinaryPrimitives.WriteInt16LittleEndian(header.AsSpan(34), 16);
        "data"u8.CopyTo(header.AsSpan(36));
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(40), bytes);
        return header;
    }

    private static short[] Samples(ReadOnlySpan<byte> body, int channels, int rate, int bits)
    {
        if (bits != 16 || channels < 1 || rate < 1_000)
        {
            throw new InvalidDataException($"Only 16-bit PCM WAV can be read (this one: {bits} bit, {channels} channels, {rate} Hz).");
        }

        var all = MemoryMarshal.Cast<byte, short>(body[..(body.Length - (body.Length % (2 * channels)))]);
        var first = new short[all.Length / channels];
        for (var n = 0; n < first.Length; n++)
        {
            first[n] = all[n * channels];
        }

        return Resampler.Convert(first, rate);
    }
}
