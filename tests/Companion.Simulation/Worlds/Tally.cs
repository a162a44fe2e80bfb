namespace Companion.Simulation.Worlds;

/// <summary>What happened in some worlds. One thread.</summary>
internal sealed class Tally
{
    private readonly SortedDictionary<string, int> _faults = new(StringComparer.Ordinal);

    /// <summary>Worlds.</summary>
    public int Worlds { get; set; }

    /// <summary>Steps of all worlds.</summary>
    public long Steps { get; set; }

    /// <summary>Journal entries, each judged.</summary>
    public long Entries { get; set; }

    /// <summary>Prompts, each listened to.</summary>
    public long Prompts { get; set; }

    /// <summary>Worlds that came to clear to work.</summary>
    public int Cleared { get; set; }

    /// <summary>Alerts of watch rooms, each foretold.</summary>
    public int Alerts { get; set; }

    /// <summary>The step that the present world has come to.</summary>
    public int Step { get; set; }

    /// <summary>Told of every step and fault, for a replay.</summary>
    public Action<string>? Trace { get; init; }

    /// <summary>Faults by kind.</summary>
    public IReadOnlyDictionary<string, int> Faults => _faults;

    /// <summary>Counts a fault.</summary>
    public void Struck(string fault)
    {
        _faults[fault] = _faults.GetValueOrDefault(fault) + 1;
        Trace?.Invoke($"  {fault}");
    }

    /// <summary>Adds another tally.</summary>
    public void Add(Tally other)
    {
        Worlds += other.Worlds;
        Steps += other.Steps;
        Entries += other.Entries;
        Prompts += other.Prompts;
        Cleared += other.Cleared;
        Alerts += other.Alerts;
        foreach (var (fault, count) in other._faults)
        {
            _faults[fault] = _faults.GetValueOrDefault(fault) + count;
        }
    }
}
