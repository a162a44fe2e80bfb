using System.Collections.Immutable;

namespace Companion.Domain.CheckIn;

/// <summary>
/// The operator's arrangement for watching over a lone worker. No authority gives the times: they are the operator's, tied to the risk.
/// </summary>
/// <param name="Times">How often somebody checks in, by phase; every phase has its line.</param>
/// <param name="LeadSeconds">So long before a check-in falls due it is asked for.</param>
/// <param name="Quiet">The wording that is agreed as the quiet word; null when none is agreed.</param>
public sealed record CheckInPolicy(ImmutableArray<PhaseTimes> Times, int LeadSeconds, CheckInPhrase? Quiet)
{
    /// <summary>The shortest interval: a shorter one would be a prompt all the time.</summary>
    public const int LeastInterval = 60;

    /// <summary>The longest interval.</summary>
    public const int MostInterval = 4 * 3600;

    /// <summary>The shortest margin: time to take a glove off, and for a second attempt to be heard.</summary>
    public const int LeastMargin = 30;

    /// <summary>The longest margin.</summary>
    public const int MostMargin = 1800;

    /// <summary>What is wrong with it, in words for whoever wrote it; empty when nothing is.</summary>
    public IEnumerable<string> Faults()
    {
        foreach (var phase in Enum.GetValues<WorkPhase>().Where(phase => Times.Count(times => times.Phase == phase) != 1))
        {
            yield return $"The phase {phase.ToString().ToLowerInvariant()} needs exactly one line of times.";
        }

        foreach (var times in Times)
        {
            var name = times.Phase.ToString().ToLowerInvariant();
            if (times.IntervalSeconds is < LeastInterval or > MostInterval)
            {
                yield return $"The interval of {name} is {times.IntervalSeconds} s; it must be {LeastInterval} to {MostInterval} s.";
            }

            if (times.AloneSeconds < LeastInterval || times.AloneSeconds > times.IntervalSeconds)
            {
                yield return $"Alone, the interval of {name} is {times.AloneSeconds} s; it must be at least {LeastInterval} s and not longer than with a second person.";
            }

            if (times.MarginSeconds is < LeastMargin or > MostMargin)
            {
                yield return $"The margin of {name} is {times.MarginSeconds} s; it must be {LeastMargin} to {MostMargin} s.";
            }

            if (LeadSeconds < 0 || LeadSeconds >= Math.Min(times.AloneSeconds, times.IntervalSeconds))
            {
                yield return $"A check-in is asked for {LeadSeconds} s before it is due; that must be shorter than the interval of {name}.";
            }
        }
    }

    /// <summary>The times of a phase.</summary>
    public PhaseTimes Of(WorkPhase phase) => Times.First(times => times.Phase == phase);
}

/// <summary>How often somebody checks in during a phase.</summary>
/// <param name="Phase">The phase.</param>
/// <param name="IntervalSeconds">From one check-in to the next falling due, while a second person is there.</param>
/// <param name="AloneSeconds">The same while nobody else is there: never longer.</param>
/// <param name="MarginSeconds">From due to the alert.</param>
public sealed record PhaseTimes(WorkPhase Phase, int IntervalSeconds, int AloneSeconds, int MarginSeconds);

/// <summary>The ways to say that all is well. Each is a check-in; one of them may be agreed as the quiet word.</summary>
public enum CheckInPhrase
{
    /// <summary>"I am all right".</summary>
    AllRight,

    /// <summary>"Status all right".</summary>
    StatusAllRight,
}
