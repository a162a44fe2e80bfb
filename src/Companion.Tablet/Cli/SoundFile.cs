using Companion.Domain.Sound;
using Companion.Sheets;

namespace Companion.Tablet.Cli;

/// <summary>The operator's order to record sound, `sound.yaml` beside the kits. Without the file nothing is recorded.</summary>
public static class SoundFile
{
    /// <summary>Reads it; null when nothing is to be recorded.</summary>
    /// <exception cref="UsageException">It must not be used; the message says what to mend.</exception>
    public static SoundPolicy? Read()
    {
        var path = Path.Combine(Places.Data, "sound.yaml");
        if (!File.Exists(path))
        {
            return null;
        }

        var reading = SoundReader.ReadFile(path);
        return reading.Problems.Count == 0 ? reading.Policy : throw new UsageException($"sound.yaml: {string.Join(Environment.NewLine, reading.Problems)}");
    }
}
