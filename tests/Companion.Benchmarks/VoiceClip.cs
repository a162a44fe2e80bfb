using System.Diagnostics;
using Companion.Voice.Audio;

namespace Companion.Benchmarks;

/// <summary>One recording of the evaluation data (manifest.tsv of COMPANION_SPEECH_DATA).</summary>
/// <param name="Path">Its file.</param>
/// <param name="Set">The data set.</param>
/// <param name="Speaker">Who speaks.</param>
/// <param name="Transcript">What is said; begins with "~" where only the meaning is known.</param>
/// <param name="Use">What it is for.</param>
public sealed record VoiceClip(string Path, string Set, string Speaker, string Transcript, string Use)
{
    /// <summary>True for the speakers that thresholds were tuned on, false for those reported on: by a hash of the name, about half each.</summary>
    public bool IsForTuning => Hash(Speaker == "-" || Speaker.StartsWith("unknown", StringComparison.Ordinal) ? Path : Speaker) % 2 == 0;

    /// <summary>All clips of a folder; null when it has no manifest.</summary>
    public static IReadOnlyList<VoiceClip>? Load(string? folder)
    {
        var manifest = System.IO.Path.Combine(folder ?? string.Empty, "manifest.tsv");
        return folder is null || !File.Exists(manifest)
            ? null
            : [.. File.ReadLines(manifest).Skip(1).Select(line => line.Split('\t')).Where(parts => parts.Length >= 7)
                .Select(parts => new VoiceClip(System.IO.Path.Combine(folder, parts[0]), parts[1], parts[2], parts[3], parts[6]))];
    }

    /// <summary>At most so many of the clips, spread evenly and always the same ones.</summary>
    public static IReadOnlyList<VoiceClip> Some(IEnumerable<VoiceClip> clips, int most) =>
        [.. clips.OrderBy(clip => Hash(clip.Path)).Take(most)];

    /// <summary>Its sound, through Debian's flac.</summary>
    /// <exception cref="InvalidDataException">flac gave no sound.</exception>
    public short[] Decode()
    {
        using var process = Process.Start(new ProcessStartInfo("flac", ["-d", "-c", "-s", Path]) { RedirectStandardOutput = true })!;
        using var sound = new MemoryStream();
        process.StandardOutput.BaseStream.CopyTo(sound);
        process.WaitForExit();
        return WavFile.Parse(sound.ToArray());
    }

    // FNV-1a (constants from memory): the same on every machine, unlike the run time's own.
    internal static uint Hash(string text)
    {
        var hash = 2166136261;
        foreach (var character in text)
        {
            hash = unchecked((hash ^ character) * 16777619);
        }

        return hash;
    }
}
