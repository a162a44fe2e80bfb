namespace Companion.Domain.Electrical;

/// <summary>Ceilings that no sheet may exceed, and the border of voltage class B.</summary>
public static class VoltageLimits
{
    /// <summary>De-energised ceiling for DC; equal passes. ISO 6469-4:2015 5.2.2, UN R94, FMVSS 305.</summary>
    public static readonly Volts CeilingDc = Volts.Of(60);

    /// <summary>De-energised ceiling for AC rms; equal passes. Same sources.</summary>
    public static readonly Volts CeilingAc = Volts.Of(30);

    /// <summary>Upper end of voltage class B for DC. ISO 6469-3, UN R100 paragraph 2.</summary>
    public static readonly Volts ClassBMostDc = Volts.Of(1500);

    /// <summary>Upper end of voltage class B for AC rms. Same sources.</summary>
    public static readonly Volts ClassBMostAc = Volts.Of(1000);

    /// <summary>The ceiling for a kind.</summary>
    public static Volts Ceiling(VoltageKind kind) => kind == VoltageKind.Dc ? CeilingDc : CeilingAc;

    /// <summary>True when a reading's magnitude is at or under a limit.</summary>
    public static bool Passes(Volts reading, Volts limit) => reading.Magnitude <= limit;

    /// <summary>True when either voltage is over its ceiling, so that the system is voltage class B.</summary>
    public static bool IsClassB(Volts dc, Volts ac) => dc.Magnitude > CeilingDc || ac.Magnitude > CeilingAc;
}
