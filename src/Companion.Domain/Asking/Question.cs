using Companion.Domain.Electrical;
using Companion.Domain.Time;

namespace Companion.Domain.Asking;

/// <summary>The open question. An answer counts only for it, and only if it began after the question, or its echo, was put (I17).</summary>
/// <param name="Sequence">Sequence of the entry that asked it: the number every answer carries.</param>
/// <param name="Need">What it asks.</param>
/// <param name="BootId">Running period in which it was put.</param>
/// <param name="Since">CLOCK_BOOTTIME since which the present stage is open.</param>
public sealed record Question(long Sequence, Need Need, string BootId, Ticks Since)
{
    /// <summary>What was heard and waits to be confirmed; null at the first stage.</summary>
    public Echo? Echo { get; init; }

    /// <summary>The fresh two-digit number to repeat; null when none is asked.</summary>
    public string? Code { get; init; }

    /// <summary>True for the code of the sound check: shown on a screen, it would prove nothing about the loudspeaker (I19).</summary>
    public bool CodeIsOnlySpoken => Need.Kind == NeedKind.SoundCheck && Echo is null;

    /// <summary>Codes that failed in a row.</summary>
    public int FailedCodes { get; init; }

    /// <summary>True when an answer that began at this moment belongs to the present stage.</summary>
    public bool Admits(long question, Moment began) => question == Sequence && began.BootId == BootId && began.Boot >= Since;
}

/// <summary>What was heard, as it is repeated to the technician.</summary>
/// <param name="Phrase">The phrase.</param>
/// <param name="Number">The number in it: a reading, a lock, a sheet.</param>
/// <param name="Below">True for "below N".</param>
/// <param name="Kind">The kind said with a reading, if one was said.</param>
/// <param name="Digest">The digest of the sheet that the number stands for.</param>
/// <param name="About">What the number stands for, in spoken words: the vehicle and its marking.</param>
public sealed record Echo(Phrase Phrase, string? Number, bool Below, VoltageKind? Kind, string? Digest, string? About = null);
