namespace Companion.Domain.Asking;

/// <summary>What the job needs to be told next. Derived from the state; a question is asked when it changes.</summary>
/// <param name="Kind">Its kind.</param>
/// <param name="Subject">The step, pair, item, way or alarm it is about, as text; empty when there is none.</param>
public sealed record Need(NeedKind Kind, string Subject)
{
    /// <summary>Nothing: the job has ended.</summary>
    public static readonly Need Nothing = new(NeedKind.Nothing, string.Empty);
}

/// <summary>Kinds of need.</summary>
public enum NeedKind
{
    /// <summary>Nothing is asked.</summary>
    Nothing,

    /// <summary>The spoken code that proves loudspeaker and microphone.</summary>
    SoundCheck,

    /// <summary>An answer to an alarm.</summary>
    AlarmHeard,

    /// <summary>After a gap: nothing was touched.</summary>
    NothingTouched,

    /// <summary>Something of the arrival list to be done.</summary>
    SceneAct,

    /// <summary>A question of the arrival list.</summary>
    SceneQuestion,

    /// <summary>What mends a yes of the arrival list.</summary>
    SceneRemedy,

    /// <summary>Whether the answers of the arrival list, read back, are right.</summary>
    SceneReadBack,

    /// <summary>The sheet, by its number, from the maker's marking.</summary>
    ChooseSheet,

    /// <summary>A look-over of one piece of equipment.</summary>
    CheckKit,

    /// <summary>An act step.</summary>
    Act,

    /// <summary>An opening.</summary>
    OpenPoint,

    /// <summary>A lock and tag.</summary>
    FitLock,

    /// <summary>A wait to be over; nothing is to be said.</summary>
    WaitOver,

    /// <summary>What the tester shows on the known source.</summary>
    ProveTester,

    /// <summary>What the tester shows at a pair.</summary>
    TakeReading,

    /// <summary>All readings were zero: did the probes touch bare metal?</summary>
    ConfirmContact,

    /// <summary>The claim "proved dead".</summary>
    ClaimDead,

    /// <summary>The covering of the live side.</summary>
    CoverLiveSide,

    /// <summary>The claim "clear to work".</summary>
    ClaimClear,

    /// <summary>How many tools go to the vehicle, or came back from it.</summary>
    CountTools,

    /// <summary>Clear to work is given; nothing is asked until the work ends.</summary>
    Working,

    /// <summary>Before energy returns: nothing left behind, everybody away.</summary>
    EverybodyAway,

    /// <summary>The cover of the live side is off.</summary>
    Uncover,

    /// <summary>One lock taken off by its holder.</summary>
    RemoveLock,

    /// <summary>A point closed again.</summary>
    ClosePoint,

    /// <summary>Everything is back: handing over.</summary>
    PutBack,

    /// <summary>Why a step cannot be done.</summary>
    InabilityReason,

    /// <summary>Whether to follow the alternative way.</summary>
    TakeWay,

    /// <summary>Going on after a stop.</summary>
    GoOn,

    /// <summary>Handing over as live.</summary>
    HandOver,

    /// <summary>Keeping away: temperatures, until it is handed over.</summary>
    StandOff,
}
