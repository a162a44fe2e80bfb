using System.Security.Cryptography;
using Companion.Domain.Events;
using Companion.Domain.Sound;

namespace Companion.Review.Listening;

/// <summary>
/// Recorded sound that was brought from tablets, laid out as there: `sound/JOB/FILE` in a store. Nothing is given out that does not fit the
/// record. Any thread; reads only.
/// </summary>
/// <param name="store">The folder in which the folder `sound` lies.</param>
public sealed class SoundShelf(string store)
{
    /// <summary>Longer files are not read: a part of a minute has less than two megabytes.</summary>
    public const long LongestFile = 8 * 1024 * 1024;

    /// <summary>The sound that an entry tells of.</summary>
    public HeldSound Find(RecordedJob job, long sequence)
    {
        if (job.Entries.FirstOrDefault(entry => entry.Sequence == sequence && entry.Happened is SoundRecorded)?.Happened is not SoundRecorded part)
        {
            return new HeldSound(null, IsMisfit: false, "No sound was recorded there.");
        }

        if (!SoundFolder.IsPlainName(job.Chain) || !SoundFolder.IsPlainName(part.File) || Read(Path.Combine(SoundFolder.Of(store, job.Chain), part.File)) is not { } bytes)
        {
            return new HeldSound(null, IsMisfit: false, "The sound of this part is not here. It was erased, or was not brought from the tablet.");
        }

        return Convert.ToHexStringLower(SHA256.HashData(bytes)) == part.Digest
            ? new HeldSound(bytes, IsMisfit: false, string.Empty)
            : new HeldSound(null, IsMisfit: true, "This sound does not fit the record: it is not the one that was recorded. It is not played.");
    }

    private static byte[]? Read(string path)
    {
        try
        {
            return new FileInfo(path) is { Exists: true, Length: <= LongestFile } ? File.ReadAllBytes(path) : null;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}

/// <summary>Sound that was looked for.</summary>
/// <param name="Wav">The file; null when it is not given out.</param>
/// <param name="IsMisfit">True when a file is there that is not the recorded one.</param>
/// <param name="Words">Why it is not given out.</param>
public sealed record HeldSound(byte[]? Wav, bool IsMisfit, string Words);
