using System.Runtime.InteropServices;
using System.Security.Cryptography;
using Companion.Domain.Events;
using Companion.Domain.Sound;
using Companion.Domain.Time;
using Companion.Engine.Disk;
using Companion.Voice.Audio;

namespace Companion.Voice.Keeping;

/// <summary>
/// One part of a job's sound while it is written: a WAV file whose header is made true when it is closed. Sound that is missing inside is
/// written as silence, so that all the rest stays at its time. One thread.
/// </summary>
internal sealed class SoundPart : IDisposable
{
    /// <summary>Samples in a whole part: a minute, 1.92 MB.</summary>
    public const int Longest = 60 * AudioFormat.SampleRate;

    private const long NanosecondsPerSample = Ticks.PerSecond / AudioFormat.SampleRate;

    private readonly Stream file;
    private Ticks from;
    private int samples;
    private int missing;

    /// <summary>Begins a part with the time of its first piece.</summary>
    public SoundPart(PartFiles files, SoundPiece first)
    {
        Job = first.Job;
        BootId = first.Came.BootId;
        from = StartOf(first, 0);
        Path = System.IO.Path.Combine(files.FolderOf(Job), PartName.Of(from, BootId) + SoundFolder.OpenPart);
        file = files.Create(Path);
        file.Write(WavFile.Header(0));
    }

    /// <summary>The file, under the name that it has while it is open.</summary>
    public string Path { get; }

    /// <summary>The job.</summary>
    public string Job { get; }

    /// <summary>The running period that its times belong to.</summary>
    public string BootId { get; }

    /// <summary>CLOCK_BOOTTIME by which it should be whole.</summary>
    public Ticks Due => from + new Ticks(Longest * NanosecondsPerSample);

    /// <summary>True when the piece belongs into this part.</summary>
    public bool Fits(SoundPiece piece) => piece.Job == Job && piece.Came.BootId == BootId && samples + GapBefore(piece) + piece.Samples.Length <= Longest;

    /// <summary>Adds a piece that fits.</summary>
    /// <exception cref="IOException">The disk is full or failed.</exception>
    public void Add(SoundPiece piece)
    {
        var gap = GapBefore(piece);
        if (gap > 0)
        {
            file.Write(new byte[gap * sizeof(short)]);
            (samples, missing) = (samples + gap, missing + gap);
        }
        else if (missing == 0 && StartOf(piece, samples) is var start && start < from)
        {
            // Frames come late on a busy machine and never early: the earliest tells when the first sample sounded.
            from = start;
        }

        file.Write(MemoryMarshal.AsBytes<short>(piece.Samples));
        samples += piece.Samples.Length;
    }

    /// <summary>Makes the file whole and durable, and says what is to be recorded of it.</summary>
    /// <exception cref="IOException">The disk failed; what was written stays as it is.</exception>
    public SoundRecorded Close()
    {
        file.Position = 0;
        file.Write(WavFile.Header(samples));
        (file as FileStream)?.Flush(flushToDisk: true);
        file.Dispose();
        return Whole(Path, from, BootId, missing, cut: false);
    }

    /// <summary>
    /// Makes a part whole that was left open by a kill, or whose end the record does not know: its header is made to fit its length.
    /// </summary>
    public static SoundRecorded? Mend(string path)
    {
        var length = new FileInfo(path).Length - WavFile.HeaderBytes;
        if (length < sizeof(short) || PartName.Read(path) is not { } began)
        {
            return null;
        }

        if (path.EndsWith(SoundFolder.OpenPart, StringComparison.Ordinal))
        {
            using var file = new FileStream(path, FileMode.Open, FileAccess.ReadWrite);
            var whole = (int)(length / sizeof(short));
            file.SetLength(WavFile.HeaderBytes + ((long)whole * sizeof(short)));
            file.Write(WavFile.Header(whole));
            file.Flush(flushToDisk: true);
        }

        return Whole(path, began.From, began.BootId, 0, cut: true);
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();

    private static SoundRecorded Whole(string path, Ticks from, string bootId, int missing, bool cut)
    {
        var whole = System.IO.Path.ChangeExtension(path, SoundFolder.WholePart);
        if (whole != path)
        {
            File.Move(path, whole);
            DirectorySync.Sync(System.IO.Path.GetDirectoryName(whole)!);
        }

        using var file = File.OpenRead(whole);
        var length = (file.Length - WavFile.HeaderBytes) / sizeof(short);
        return new SoundRecorded(
            System.IO.Path.GetFileName(whole),
            bootId,
            from,
            from + new Ticks(length * NanosecondsPerSample),
            Convert.ToHexStringLower(SHA256.HashData(file)),
            (int)(missing * 1000L / AudioFormat.SampleRate),
            cut);
    }

    private static Ticks StartOf(SoundPiece piece, int before) => piece.Came.Boot - new Ticks((before + piece.Samples.Length) * NanosecondsPerSample);

    /// <summary>Only after a break is time that has passed a sign of missing sound; otherwise the frame is late.</summary>
    private int GapBefore(SoundPiece piece) => piece.IsAfterBreak && samples > 0
        ? (int)Math.Clamp((StartOf(piece, samples) - from).Nanoseconds / NanosecondsPerSample, 0, Longest)
        : 0;
}
