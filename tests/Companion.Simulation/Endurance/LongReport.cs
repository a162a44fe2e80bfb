using System.Globalization;

namespace Companion.Simulation.Endurance;

/// <summary>What a long job showed.</summary>
/// <param name="Load">The load.</param>
/// <param name="Utterances">Things said.</param>
/// <param name="Entries">Journal entries of the job.</param>
/// <param name="Memory">Managed bytes after a full collection, at the end of each hour.</param>
/// <param name="WaitsCompleted">Waits that ended.</param>
/// <param name="WorstLateNanoseconds">The latest end of a wait against the true one.</param>
/// <param name="Early">Waits that ended too early.</param>
/// <param name="Files">Bytes of each file of the store.</param>
/// <param name="Recording">True when the journal took everything.</param>
public sealed record LongReport(
    LongLoad Load,
    int Utterances,
    int Entries,
    IReadOnlyList<long> Memory,
    int WaitsCompleted,
    long WorstLateNanoseconds,
    int Early,
    IReadOnlyDictionary<string, long> Files,
    bool Recording)
{
    /// <summary>An entry's place in memory: a hash, an offset and a number in a list that doubles. Everything else must stay as it is.</summary>
    private const double MostBytesPerEntry = 400;

    /// <summary>Growth of memory in bytes an hour: the slope of the least-squares line, without the first hour, in which everything is used for the first time.</summary>
    public double BytesPerHour
    {
        get
        {
            var points = Memory.Skip(1).Select((bytes, hour) => (Hour: (double)hour, Bytes: (double)bytes)).ToList();
            var (middle, mean) = (points.Average(point => point.Hour), points.Average(point => point.Bytes));
            return points.Sum(point => (point.Hour - middle) * (point.Bytes - mean)) / points.Sum(point => (point.Hour - middle) * (point.Hour - middle));
        }
    }

    /// <summary>Growth of memory for each journal entry.</summary>
    public double BytesPerEntry => BytesPerHour * Load.Hours / Entries;

    /// <summary>What was not as it must be, in words.</summary>
    public IEnumerable<string> Faults()
    {
        (bool Broken, string Words)[] all =
        [
            (!Recording, "the journal did not take everything"),
            (Utterances < Load.Utterances, $"fewer than {Load.Utterances} utterances"),
            (WaitsCompleted < Load.Waits * Load.Hours, $"fewer than {Load.Waits * Load.Hours} waits ended"),
            (BytesPerEntry >= MostBytesPerEntry, $"memory grows by {MostBytesPerEntry} bytes an entry or more"),
            (Early > 0, "a wait ended too early"),
            (WorstLateNanoseconds > 1_000_000_000 / Load.PulsesPerSecond, "a wait ended more than a pulse late"),
        ];
        return all.Where(one => one.Broken).Select(one => $"FAULT: {one.Words}");
    }

    /// <summary>The report in lines.</summary>
    public IEnumerable<string> Lines()
    {
        yield return string.Create(CultureInfo.InvariantCulture, $"{Load.Hours} h, {Load.Waits} waits at once, {WaitsCompleted} waits ended, {Utterances} utterances, {Entries} entries");
        yield return string.Create(CultureInfo.InvariantCulture, $"memory {Memory[1] / 1024} KiB after the second hour, {Memory[^1] / 1024} KiB at the end: {BytesPerHour / 1024:0.0} KiB an hour, {BytesPerEntry:0} bytes an entry");
        yield return string.Create(CultureInfo.InvariantCulture, $"latest end of a wait {WorstLateNanoseconds / 1e6:0} ms, too early {Early}");
        yield return "files: " + string.Join(", ", Files.OrderBy(file => file.Key, StringComparer.Ordinal).Select(file => string.Create(CultureInfo.InvariantCulture, $"{file.Key} {file.Value / 1024} KiB")));
    }
}
