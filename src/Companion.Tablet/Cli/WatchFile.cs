using Companion.Sheets;

namespace Companion.Tablet.Cli;

/// <summary>The operator's arrangement for watching over lone workers, `watch.yaml` beside the kits. Without the file nobody is asked to check in.</summary>
public static class WatchFile
{
    /// <summary>Reads it: its policy is there; null when there is no such file.</summary>
    /// <exception cref="UsageException">It must not be used; the message says what to mend.</exception>
    public static WatchReading? Read()
    {
        var path = Path.Combine(Places.Data, "watch.yaml");
        if (!File.Exists(path))
        {
            return null;
        }

        var reading = WatchReader.ReadFile(path);
        return reading.Policy is not null ? reading : throw new UsageException($"watch.yaml: {string.Join(Environment.NewLine, reading.Problems)}");
    }
}
