using Companion.Domain.CheckIn;

namespace Companion.TestKit;

/// <summary>Invented arrangements for watching over a lone worker.</summary>
public static class DemoWatch
{
    /// <summary>The same times in every phase, alone or not.</summary>
    public static CheckInPolicy Even(int interval = 900, int margin = 120, int lead = 0) => new(
        [.. Enum.GetValues<WorkPhase>().Select(phase => new PhaseTimes(phase, interval, interval, margin))], lead, CheckInPhrase.StatusAllRight);

    /// <summary>Times that differ by phase, and are shorter alone.</summary>
    public static CheckInPolicy ByPhase() => new(
        [
            new(WorkPhase.Travelling, 1200, 1200, 300),
            new(WorkPhase.Triage, 600, 400, 120),
            new(WorkPhase.Exposed, 400, 200, 60),
            new(WorkPhase.Working, 600, 300, 90),
            new(WorkPhase.Watching, 900, 600, 120),
        ],
        45,
        CheckInPhrase.StatusAllRight);
}
