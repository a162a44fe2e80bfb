using Companion.Domain.Deciding;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Screens.Showing;
using Companion.Screens.Starting;

namespace Companion.Screens;

/// <summary>What a screen works with.</summary>
/// <param name="Snapshot">The engine's present state.</param>
/// <param name="Post">Brings a command to the engine.</param>
/// <param name="Clock">The clocks.</param>
/// <param name="Sheets">The sheets on offer.</param>
/// <param name="Opening">What is needed to open a job.</param>
/// <param name="Guard">Says when there has been no word from the engine for too long.</param>
public sealed record ScreenParts(
    Func<Snapshot> Snapshot, Action<Command> Post, IClock Clock, ISheetCatalogue Sheets, JobOpening Opening, StaleGuard Guard)
{
    /// <summary>How the link to the watch room stands; null without one.</summary>
    public Func<LinkStanding?> Link { get; init; } = () => null;

    /// <summary>The parts over an engine.</summary>
    public static ScreenParts Of(JobEngine engine, IClock clock, ISheetCatalogue sheets, JobOpening opening, int speed = 1) =>
        new(() => engine.Snapshot, engine.Post, clock, sheets, opening, new StaleGuard(speed));
}
