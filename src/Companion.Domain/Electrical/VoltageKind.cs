namespace Companion.Domain.Electrical;

/// <summary>What a tester was proved on and reads.</summary>
public enum VoltageKind
{
    /// <summary>Direct voltage.</summary>
    Dc,

    /// <summary>Alternating voltage, root mean square.</summary>
    Ac,
}
