using Companion.Domain.HandingOver;
using Companion.Domain.Isolation;
using Companion.Domain.Speaking;

namespace Companion.Papers.Words;

/// <summary>How the vehicle stands, as the largest words of a paper: never more than the record shows, at the time the paper is made.</summary>
internal static class StandingWords
{
    public static string Of(RecordEnd end, DateTimeOffset made) => PaperStates.Of(end) switch
    {
        PaperState.NotTold when end.Job is null => "Treat as live. This record does not tell how the vehicle stands.",
        PaperState.NotTold => "Treat as live. Parts of this record are missing or cannot be read, so nothing counts as proved.",
        PaperState.StandOff => $"{HandOverSheet.Of(end.Job!).Standing} {SceneWording.Parking(end.Job!.StandOff!)}",
        PaperState.HandedOverIsolated =>
            $"Isolated and marked when it was handed over, {end.Time(end.Ending!.Entry.Time)}. The battery is not de-energised. Nobody is clear to work: test again first.",
        PaperState.ProvedDead when end.Job!.Clearance is not null =>
            "Treat as live. It was isolated and marked, but the tablet's clock was set meanwhile: when the re-test is due is not known. The battery is not de-energised.",
        PaperState.ClearToWork when Lapsed(end, end.Job!.Clearance!, made) =>
            $"Treat as live. It was isolated and marked, but the re-test was due at {end.Time(end.Job.Clearance!.DueWall)}. The battery is not de-energised.",
        PaperState.ClearToWork => $"{HandOverSheet.Of(end.Job!).Standing} Clear to work lapses at {end.When(end.Job!.Clearance!.DueWall)} at the latest.",
        _ => HandOverSheet.Of(end.Job!).Standing,
    };

    /// <summary>True when clear to work no longer counts when the paper is made. A clock that was set measures nothing.</summary>
    public static bool Lapsed(RecordEnd end, Clearance clearance, DateTimeOffset made) =>
        end.ClockWasSet || made < clearance.Wall || made >= clearance.DueWall;
}
