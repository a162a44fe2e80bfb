namespace Companion.Review.Lines;

/// <summary>A row of the timeline.</summary>
public enum Lane
{
    /// <summary>The job and its steps.</summary>
    Steps,

    /// <summary>Isolation points, locks and disturbances.</summary>
    Points,

    /// <summary>Waits.</summary>
    Waits,

    /// <summary>Tester, readings and proofs.</summary>
    Readings,

    /// <summary>What was heard and said.</summary>
    Speech,

    /// <summary>Check-ins and alerts.</summary>
    CheckIns,

    /// <summary>Devices, clocks, and entries that cannot be read.</summary>
    Devices,
}
