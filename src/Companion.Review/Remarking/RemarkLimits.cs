namespace Companion.Review.Remarking;

/// <summary>From where on something is remarked. None of these figures is a rule of the job: they only choose what is shown first.</summary>
public static class RemarkLimits
{
    /// <summary>Seconds from the end of a wait to the dead test, up to which it was barely kept. Our own: a walk to the vehicle takes longer.</summary>
    public const int BarelyKeptSeconds = 5;

    /// <summary>Refusals of one step from which on they are many. Common practice, no source: after the third attempt one asks why.</summary>
    public const int ManyRefusals = 3;

    /// <summary>Seconds without a word from the person. Our own: check-in intervals are the operator's, and no authority gives them.</summary>
    public const int SilenceSeconds = 600;

    /// <summary>Days before its last day from which on equipment is near its date. Common practice, no source: time to have it tested.</summary>
    public const int NearDateDays = 14;

    /// <summary>Per cent of a limit from which on a reading is near it. Our own; the limits themselves are at most 60 V DC and 30 V AC (ISO 6469-4:2015 5.2.2).</summary>
    public const int NearLimitPercent = 80;

    /// <summary>Answers that were heard and not accepted, from which on it is worth a word. Our own: one or two are noise.</summary>
    public const int UnheardAnswers = 3;

    /// <summary>Corrections from which on they are worth a word; fewer are the echo at its work. Our own.</summary>
    public const int ManyCorrections = 3;

    /// <summary>Seconds until an alarm is answered late. Our own: a warning is said again after 8 and 16 s; by then it was said three times.</summary>
    public const int AlarmSeconds = 30;

    /// <summary>Most entries that one remark points to; the figure in its words counts all of them.</summary>
    public const int MostPointedTo = 20;
}
