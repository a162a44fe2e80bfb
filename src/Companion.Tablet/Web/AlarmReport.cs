namespace Companion.Tablet.Web;

/// <summary>What the watchdog tells once the app answers again.</summary>
/// <param name="Seconds">How long the engine made no turn, rounded up.</param>
public sealed record AlarmReport(int Seconds);
