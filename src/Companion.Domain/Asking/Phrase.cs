namespace Companion.Domain.Asking;

/// <summary>What can be said. Buttons and keys mean the same phrases.</summary>
public enum Phrase
{
    /// <summary>"Affirm".</summary>
    Affirm,

    /// <summary>"Affirm" and the code.</summary>
    AffirmCode,

    /// <summary>"Wrong": the echo is not what was said.</summary>
    Wrong,

    /// <summary>"Say again".</summary>
    SayAgain,

    /// <summary>The two-digit number of a sheet, with or without the word "sheet".</summary>
    Sheet,

    /// <summary>An equipment item was looked over and is fit.</summary>
    Checked,

    /// <summary>An act step is done.</summary>
    Done,

    /// <summary>A point is open.</summary>
    Opened,

    /// <summary>Lock and tag are fitted, with the lock's number.</summary>
    Fitted,

    /// <summary>The live side is covered.</summary>
    Covered,

    /// <summary>A reading.</summary>
    Reading,

    /// <summary>A number with a unit other than volts.</summary>
    OtherUnit,

    /// <summary>The tester shows nothing on the known source.</summary>
    NothingShown,

    /// <summary>"Bare metal": the probes touched it.</summary>
    BareMetal,

    /// <summary>"Proved dead".</summary>
    ProvedDead,

    /// <summary>"Clear to work".</summary>
    ClearToWork,

    /// <summary>"Nothing touched".</summary>
    NothingTouched,

    /// <summary>"Cannot do".</summary>
    CannotDo,

    /// <summary>"Not there".</summary>
    NotThere,

    /// <summary>"Cannot reach".</summary>
    CannotReach,

    /// <summary>"It is damaged".</summary>
    Damaged,

    /// <summary>"It is stuck".</summary>
    Stuck,

    /// <summary>"No tool".</summary>
    NoTool,

    /// <summary>"Take the other way".</summary>
    OtherWay,

    /// <summary>"Ready": go on after a stop.</summary>
    Ready,

    /// <summary>"Hand over".</summary>
    HandOver,

    /// <summary>"How long".</summary>
    HowLong,

    /// <summary>"Watching" and a reading that never counts.</summary>
    Watching,

    /// <summary>"Stop".</summary>
    Stop,

    /// <summary>"Help me".</summary>
    HelpMe,

    /// <summary>"Key on".</summary>
    KeyOn,

    /// <summary>"Engine started".</summary>
    EngineStarted,

    /// <summary>"Twelve volt restored".</summary>
    LowVoltRestored,

    /// <summary>"Vehicle woke".</summary>
    VehicleWoke,

    /// <summary>"Plug refitted".</summary>
    PlugRefitted,

    /// <summary>"Charger connected".</summary>
    ChargerConnected,

    /// <summary>"Wheels turned".</summary>
    WheelsTurned,

    /// <summary>"Vehicle towed".</summary>
    VehicleTowed,
}
