using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Papers.Words;

/// <summary>How a vehicle stands, as far as a record shows it. Every one but a clear to work that has not lapsed means: test first.</summary>
public enum PaperState
{
    /// <summary>The record does not tell, or is not whole.</summary>
    NotTold,

    /// <summary>Stand off.</summary>
    StandOff,

    /// <summary>Isolation has not come to its end, or was undone.</summary>
    NotIsolated,

    /// <summary>Work was stopped.</summary>
    Stopped,

    /// <summary>Every test place of the way is proved dead; nobody is clear to work.</summary>
    ProvedDead,

    /// <summary>Isolated, marked, and clear to work until the re-test.</summary>
    ClearToWork,

    /// <summary>Being put back: live.</summary>
    PuttingBack,

    /// <summary>Handed over isolated and marked; nobody is clear to work.</summary>
    HandedOverIsolated,

    /// <summary>Handed over after it was put back: live.</summary>
    HandedOverPutBack,

    /// <summary>Handed over as live.</summary>
    HandedOverLive,

    /// <summary>Closed before anything was opened.</summary>
    Closed,
}

/// <summary>Which state a record ends in. Pure.</summary>
internal static class PaperStates
{
    public static PaperState Of(RecordEnd end) => end switch
    {
        { Job: null } => PaperState.NotTold,
        { Job.StandOff: not null } => PaperState.StandOff,
        { Whole: false } => PaperState.NotTold,
        { Ending.Happened: JobClosed } => PaperState.Closed,
        { Ending: not null } => HandedOver(end.Job),
        _ => Open(end, end.Job),
    };

    private static PaperState HandedOver(Job job) => job switch
    {
        { PuttingBack: true } when PuttingBack.IsComplete(job) => PaperState.HandedOverPutBack,
        { PuttingBack: false, Halt: null, Clearance: not null } => PaperState.HandedOverIsolated,
        _ => PaperState.HandedOverLive,
    };

    /// <summary>By a clock that was set nobody can tell when the re-test is due.</summary>
    private static PaperState Open(RecordEnd end, Job job) => job switch
    {
        { Halt: not null } => PaperState.Stopped,
        { PuttingBack: true } => PaperState.PuttingBack,
        { Clearance: not null } when !end.ClockWasSet => PaperState.ClearToWork,
        { Way: { } way, Doubt: false } when way.TestPlaces.All(place => job.Proofs.ContainsKey(place.Id)) => PaperState.ProvedDead,
        _ => PaperState.NotIsolated,
    };
}
