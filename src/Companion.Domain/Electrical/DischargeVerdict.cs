namespace Companion.Domain.Electrical;

/// <summary>What watching readings say of a circuit. None of them allows anything: they only warn, or change nothing.</summary>
public enum DischargeVerdict
{
    /// <summary>Too few readings, over too short a time, or too close together for the meter to tell.</summary>
    TooFew,

    /// <summary>The last reading is at or under the limit. It is no dead test.</summary>
    UnderLimit,

    /// <summary>The limit will be reached before the waits end, at 95 %.</summary>
    FallingAsExpected,

    /// <summary>The limit may not be reached before the waits end.</summary>
    TooSlow,

    /// <summary>Above the limit, and no change that the meter can tell: a contactor is welded, or a source is still connected.</summary>
    NotFalling,

    /// <summary>Higher than before: recovery voltage, or the circuit is fed again.</summary>
    Rising,
}
