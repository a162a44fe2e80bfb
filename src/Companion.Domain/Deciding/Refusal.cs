namespace Companion.Domain.Deciding;

/// <summary>Why something was refused, before it is journalled.</summary>
/// <param name="Reason">A sentence that the technician can act on.</param>
/// <param name="RemainingSeconds">Whole seconds left, rounded up; 0 when time is not what is missing.</param>
/// <param name="TestPlace">The test place, when the claim "proved dead" was refused.</param>
internal sealed record Refusal(string Reason, long RemainingSeconds = 0, TestPlaceId? TestPlace = null);
