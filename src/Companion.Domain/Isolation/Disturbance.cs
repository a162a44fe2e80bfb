namespace Companion.Domain.Isolation;

/// <summary>Anything that voids waits and proofs. It cannot be undone by a correction.</summary>
public enum Disturbance
{
    /// <summary>Key on, start button pressed.</summary>
    KeyOn,

    /// <summary>The engine or generator started.</summary>
    EngineStarted,

    /// <summary>12 V (or 24 V) restored.</summary>
    LowVoltRestored,

    /// <summary>A remote or scheduled wake.</summary>
    VehicleWoke,

    /// <summary>The plug or another point was refitted.</summary>
    PlugRefitted,

    /// <summary>A charger was connected.</summary>
    ChargerConnected,

    /// <summary>The driven wheels turned.</summary>
    WheelsTurned,

    /// <summary>The vehicle was towed.</summary>
    VehicleTowed,

    /// <summary>After a restart or sleep nobody could confirm that nothing was touched.</summary>
    Unwatched,
}
