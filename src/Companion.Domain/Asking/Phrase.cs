namespace Companion.Domain.Asking;

/// <summary>What can be said. Buttons and keys mean the same phrases.</summary>
public enum Phrase
{
    /// <summary>"Affirm".</summary>
    Affirm,

    /// <summary>"Affirm" and the code.</summary>
    AffirmCode,

    /// <summary>"Yes".</summary>
    Yes,

    /// <summary>"No".</summary>
    No,

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

    /// <summary>"Hand over, other lock": whoever takes over has fitted locks of their own.</summary>
    HandOverExchanged,

    /// <summary>"Checked" and how many tools.</summary>
    Tools,

    /// <summary>"Done work": the vehicle is to be put back.</summary>
    WorkDone,

    /// <summary>"Uncovered": the cover of the live side is off.</summary>
    Uncovered,

    /// <summary>"Removed", and the number of the lock.</summary>
    Removed,

    /// <summary>"By procedure", and the crew number of who answers for taking off an absent person's lock.</summary>
    ByProcedure,

    /// <summary>"Closed": a point is closed again.</summary>
    Closed,

    /// <summary>"Other ... ready": somebody is there and watches.</summary>
    PersonArrived,

    /// <summary>"Other ... left".</summary>
    PersonLeft,

    /// <summary>"Other ... work": somebody works here too.</summary>
    PersonJoins,

    /// <summary>"Other ... take over": another technician goes on.</summary>
    PersonTakesOver,

    /// <summary>"Off work": a break.</summary>
    TakingBreak,

    /// <summary>"How long".</summary>
    HowLong,

    /// <summary>"Watching" and a reading that never counts.</summary>
    Watching,

    /// <summary>"Temperature" and a number of degrees Celsius.</summary>
    Temperature,

    /// <summary>"Leave now": everybody goes, and the vehicle is not isolated.</summary>
    LeaveNow,

    /// <summary>"Casualty": somebody is hurt.</summary>
    Casualty,

    /// <summary>"I am all right": a check-in.</summary>
    AllRight,

    /// <summary>"Status all right": a check-in too; the operator may have agreed it as the quiet word.</summary>
    StatusAllRight,

    /// <summary>"Call arranged": there is no signal, and somebody elsewhere expects a call. By touch only.</summary>
    NoSignal,

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
