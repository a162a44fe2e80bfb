using System.Collections.Frozen;
using Companion.Papers.Words;

namespace Companion.Papers.Coding;

/// <summary>The words of a state in a code: plain enough for any reader of QR codes, and told apart by a program.</summary>
internal static class StateWords
{
    private static readonly FrozenDictionary<PaperState, string> Words = new Dictionary<PaperState, string>
    {
        [PaperState.NotTold] = "not told, treat as live",
        [PaperState.StandOff] = "stand off, not isolated",
        [PaperState.NotIsolated] = "not isolated, treat as live",
        [PaperState.Stopped] = "stopped, treat as live",
        [PaperState.ProvedDead] = "proved dead, not clear to work",
        [PaperState.ClearToWork] = "isolated and marked, clear to work",
        [PaperState.PuttingBack] = "being put back, treat as live",
        [PaperState.HandedOverIsolated] = "handed over isolated and marked, not clear to work",
        [PaperState.HandedOverPutBack] = "handed over put back, live",
        [PaperState.HandedOverLive] = "handed over, treat as live",
        [PaperState.Closed] = "closed, nothing opened, treat as live",
    }.ToFrozenDictionary();

    public static string Of(PaperState state) => Words[state];

    public static PaperState? Read(string words) => Words.Where(each => each.Value == words).Select(each => (PaperState?)each.Key).FirstOrDefault();
}
