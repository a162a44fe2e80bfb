namespace Companion.Domain.Electrical;

/// <summary>One reading for a fit.</summary>
/// <param name="Seconds">When, in seconds from any fixed moment.</param>
/// <param name="Volts">The magnitude shown, in volts.</param>
public readonly record struct DischargePoint(double Seconds, double Volts);
