using Companion.Domain.Electrical;

namespace Companion.Domain.Speaking;

/// <summary>The words for what watching readings say. None of them allows anything.</summary>
public static class DischargeWording
{
    /// <summary>The warning for a verdict that takes away: what it means and what to do. Without figures, so that it is one warning however often.</summary>
    /// <param name="verdict">The verdict.</param>
    /// <param name="live">True when the last reading is above the limit.</param>
    public static string Warning(DischargeVerdict verdict, bool live) => verdict switch
    {
        DischargeVerdict.NotFalling => "Live and not falling. Hands off, stand clear. A contactor may be welded, or a source is still connected. "
            + "Look for it. The wait begins again.",
        DischargeVerdict.Rising => (live ? "Live" : "Void") + " and rising. Hands off, stand clear. The circuit may be fed again, or charge has come back. "
            + "Look for another source. The wait begins again.",
        _ => "Void, falls too slowly. Stand clear. The limit may not be reached before the wait ends. The discharge path may be damaged. "
            + "The wait begins again.",
    };

    /// <summary>Why waits and proofs are void.</summary>
    public static string Reason(DischargeVerdict verdict) => verdict switch
    {
        DischargeVerdict.NotFalling => "the voltage does not fall",
        DischargeVerdict.Rising => "the voltage rises",
        _ => "falls too slowly",
    };

    /// <summary>The verdict on a screen.</summary>
    public static string OnScreen(DischargeVerdict verdict) => verdict switch
    {
        DischargeVerdict.FallingAsExpected => "Falling as expected. The wait goes on.",
        DischargeVerdict.UnderLimit => "Under the limit at this reading. Not a dead test.",
        DischargeVerdict.TooSlow => "Falls too slowly. Stand clear.",
        DischargeVerdict.NotFalling => "Not falling. Hands off, stand clear.",
        DischargeVerdict.Rising => "Rising. Hands off, stand clear.",
        _ => "Too few readings to judge. The wait goes on.",
    };

    /// <summary>What is said after a reading that changes nothing.</summary>
    public static string Falling(Volts volts) => $"Falling, {Wording.Digits(volts.ToString())} volts. The wait goes on.";
}
