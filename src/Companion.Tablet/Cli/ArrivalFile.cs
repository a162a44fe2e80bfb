using Companion.Domain.Arrival;
using Companion.Sheets;

namespace Companion.Tablet.Cli;

/// <summary>The operator's arrival list. Without one that covers every concern no job is opened.</summary>
public static class ArrivalFile
{
    /// <summary>Reads it.</summary>
    /// <exception cref="UsageException">It is missing or must not be used; the message says what to mend.</exception>
    public static ArrivalList Read()
    {
        var reading = ArrivalReader.ReadFile(Path.Combine(Places.Data, "arrival.yaml"));
        return reading.List ?? throw new UsageException($"arrival.yaml: {string.Join(Environment.NewLine, reading.Problems)}");
    }
}
