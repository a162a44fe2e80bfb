using Companion.Domain.Asking;

namespace Companion.Domain.Deciding;

/// <summary>
/// The words of a warning. The engine speaks them the moment the phrase arrives, before any rule is asked or any byte is written (I16).
/// </summary>
public static class LosingWords
{
    /// <summary>True when the phrase is a warning that must be given at once.</summary>
    public static bool IsLosing(Phrase phrase) =>
        phrase is Phrase.Stop or Phrase.HelpMe or Phrase.LeaveNow or Phrase.Casualty || LosingRules.DisturbanceOf(phrase) is not null;

    /// <summary>The words to speak.</summary>
    public static string Of(Phrase phrase) => phrase switch
    {
        Phrase.Stop => "Stop. Hands off. Stand clear. Treat as live.",
        Phrase.LeaveNow => "Leave now. Take everybody with you, upwind. Call the fire service.",
        Phrase.Casualty => "Casualty. Call the emergency number. Do not touch the person. Pull them away with the rescue hook, then give first aid.",
        Phrase.HelpMe => "Help is asked for. Stand clear. Call the emergency number.",
        _ when LosingRules.DisturbanceOf(phrase) is { } what =>
            $"Disturbed: {VoidRules.Words(what)}. Stand clear. Waits and proofs are void. Treat as live.",
        _ => string.Empty,
    };
}
