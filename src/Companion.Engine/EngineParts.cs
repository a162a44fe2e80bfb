using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>The ports that an engine works with.</summary>
/// <param name="Journal">The log.</param>
/// <param name="Clock">The clocks.</param>
/// <param name="Ear">The ear; silent where there is none.</param>
/// <param name="Speaker">The voice.</param>
/// <param name="Sheets">The sheets on offer.</param>
/// <param name="Chance">Where codes come from.</param>
public sealed record EngineParts(IJournal Journal, IClock Clock, IEar Ear, ISpeaker Speaker, ISheetCatalogue Sheets, IChance Chance);
