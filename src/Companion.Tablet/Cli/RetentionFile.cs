using Companion.Domain.Retention;
using Companion.Sheets;

namespace Companion.Tablet.Cli;

/// <summary>For how long the operator keeps personal data, `retention.yaml` beside the kits. Without the file nothing falls due.</summary>
public static class RetentionFile
{
    /// <summary>Reads it; null when there is no such file.</summary>
    /// <exception cref="UsageException">It must not be used; the message says what to mend.</exception>
    public static RetentionPolicy? Read()
    {
        var path = Path.Combine(Places.Data, "retention.yaml");
        if (!File.Exists(path))
        {
            return null;
        }

        var reading = RetentionReader.ReadFile(path);
        return reading.Policy ?? throw new UsageException($"retention.yaml: {string.Join(Environment.NewLine, reading.Problems)}");
    }
}
