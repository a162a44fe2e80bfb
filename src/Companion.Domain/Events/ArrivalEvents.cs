using Companion.Domain.Arrival;
using Companion.Domain.Asking;

namespace Companion.Domain.Events;

/// <summary>An item of the arrival list was answered.</summary>
public sealed record SceneAnswered(ArrivalItemId Item, SceneAnswer Answer, By By, int Confidence) : JobEvent;

/// <summary>The stand-off began: nothing but the heat watch and the hand-over is left.</summary>
public sealed record StandOffBegun(string Reason, int Centimetres) : JobEvent;

/// <summary>A temperature of the heat watch, in tenths of a degree Celsius.</summary>
public sealed record TemperatureTaken(int Tenths) : JobEvent;
