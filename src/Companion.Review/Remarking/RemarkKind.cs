namespace Companion.Review.Remarking;

/// <summary>What a remark is about.</summary>
public enum RemarkKind
{
    /// <summary>A dead test began within seconds of the end of a wait.</summary>
    WaitBarelyKept,

    /// <summary>"Proved dead" was claimed before the waits had ended.</summary>
    EarlyClaim,

    /// <summary>One step was refused again and again.</summary>
    ManyRefusals,

    /// <summary>Nothing was heard of the person while live parts were within reach, or during the work.</summary>
    LongSilence,

    /// <summary>Equipment was used shortly before its last day.</summary>
    KitNearDate,

    /// <summary>A reading of a dead test was near its limit.</summary>
    ReadingNearLimit,

    /// <summary>A reading of a dead test was above its limit.</summary>
    ReadingAboveLimit,

    /// <summary>Speech was heard and not accepted.</summary>
    UnheardAnswers,

    /// <summary>Prompts were not played to their end.</summary>
    PromptsNotPlayed,

    /// <summary>The sheet was past its review date.</summary>
    SheetPastReview,

    /// <summary>What was heard was corrected by the person.</summary>
    Corrections,

    /// <summary>A device or a view was lost.</summary>
    DeviceTrouble,

    /// <summary>An alarm was answered late, or not at all.</summary>
    AlarmAnsweredLate,

    /// <summary>Nobody answered a check-in until its margin had passed.</summary>
    CheckInMissed,

    /// <summary>The record was interrupted: a restart, a sleep, or a loop that stood still.</summary>
    Interruption,

    /// <summary>The record itself has a trouble: entries are missing, cannot be read or do not fit.</summary>
    RecordTrouble,

    /// <summary>A step could not be done, or another way was taken.</summary>
    CannotDo,

    /// <summary>The job ended in a stand-off.</summary>
    StandOff,
}
