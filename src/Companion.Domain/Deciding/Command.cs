using System.Collections.Immutable;
using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Sound;
using Companion.Domain.Time;

namespace Companion.Domain.Deciding;

/// <summary>Something that is asked of the rules.</summary>
public abstract record Command;

/// <summary>Open a job.</summary>
/// <param name="JobId">Its id, also the name of its chain.</param>
/// <param name="Technician">Crew number.</param>
/// <param name="Name">The technician's name.</param>
/// <param name="SecondPerson">Who else is there; null when alone.</param>
/// <param name="Rehearsal">True in a rehearsal store.</param>
/// <param name="Policy">The operator's policy for exposing steps.</param>
/// <param name="Rating">How glove classes are read.</param>
/// <param name="Kit">The equipment that was brought.</param>
/// <param name="LatestWall">The latest time ever journalled on this tablet.</param>
public sealed record OpenJob(
    string JobId,
    string Technician,
    string Name,
    string? SecondPerson,
    bool Rehearsal,
    ExposurePolicy Policy,
    RatingPolicy Rating,
    ImmutableArray<KitItem> Kit,
    DateTimeOffset LatestWall) : Command
{
    /// <summary>Where the job is, in words, for whoever is called.</summary>
    public string? Place { get; init; }

    /// <summary>The operator's arrival list; null when the job begins at the sheet.</summary>
    public ArrivalList? Arrival { get; init; }

    /// <summary>The id of the job at another vehicle of the same event; null when there is none.</summary>
    public string? Linked { get; init; }

    /// <summary>The operator's arrangement for watching over the technician; null when nobody does.</summary>
    public CheckInPolicy? Watch { get; init; }

    /// <summary>True when the tablet is paired with a watch room: its word is then needed before live parts are exposed.</summary>
    public bool HasWatchroom { get; init; }

    /// <summary>The operator's order to record the sound; null when none is recorded.</summary>
    public SoundPolicy? Sound { get; init; }
}

/// <summary>
/// The process started and found this job open. Its proofs are void: before the restart the record may have been in doubt (I16), and
/// a process that died could not write that down.
/// </summary>
public sealed record Restarted : Command;

/// <summary>Time passes. Sent several times a second.</summary>
public sealed record Tick : Command;

/// <summary>An answer, or anything else that the technician says or presses.</summary>
public sealed record Answer : Command
{
    /// <summary>Sequence of the question that was open when it began.</summary>
    public required long Question { get; init; }

    /// <summary>When it began: speech onset, finger down.</summary>
    public required Moment Began { get; init; }

    /// <summary>By what it came.</summary>
    public required By By { get; init; }

    /// <summary>What was meant.</summary>
    public required Phrase Phrase { get; init; }

    /// <summary>The number in it: reading, lock, sheet or code.</summary>
    public string? Number { get; init; }

    /// <summary>True for "below N".</summary>
    public bool Below { get; init; }

    /// <summary>The kind said with a reading, if one was said.</summary>
    public VoltageKind? Kind { get; init; }

    /// <summary>How long finger or button was held; zero for a tap or speech.</summary>
    public Ticks Held { get; init; }

    /// <summary>The ear's confidence, 0 to 1000; 1000 for a touch.</summary>
    public int Confidence { get; init; } = 1000;

    /// <summary>The tester in use; null for the one of the kit.</summary>
    public KitId? Tester { get; init; }

    /// <summary>The sheet that the number stands for, when it stands for one.</summary>
    public OfferedSheet? Sheet { get; init; }

    /// <summary>What was said, for the journal.</summary>
    public string? Text { get; init; }

    /// <summary>A press this long is deliberate.</summary>
    public static readonly Ticks DeliberateHold = Ticks.OfMilliseconds(1200);

    /// <summary>True for a deliberate hold.</summary>
    public bool IsHold => By != By.Voice && Held >= DeliberateHold;
}

/// <summary>A sheet with its digest.</summary>
/// <param name="Sheet">The sheet.</param>
/// <param name="Digest">SHA-256 of its canonical form.</param>
public sealed record OfferedSheet(Sheet Sheet, string Digest);

/// <summary>An utterance that the ear does not stand by.</summary>
public sealed record Unheard(string Text, string Reason, int Confidence) : Command;

/// <summary>What became of a prompt.</summary>
public sealed record PromptEnded(string Text, bool Played, string Reason) : Command;

/// <summary>A device came or went.</summary>
public sealed record DeviceChanged(string Which, bool Present, string Reason) : Command;

/// <summary>A view was lost.</summary>
public sealed record ViewGone(string Which) : Command;

/// <summary>Somebody elsewhere answers for a call that went out.</summary>
/// <param name="Call">The sequence of the entry that called.</param>
/// <param name="Person">Who.</param>
public sealed record TakeCall(long Call, string Person) : Command;

/// <summary>The watch room answered the tablet's newest beat.</summary>
public sealed record LinkAnswered : Command;

/// <summary>A part of a job's sound is whole. The last one is whole only after the job has ended.</summary>
/// <param name="JobId">The job.</param>
/// <param name="Part">What is to be recorded of it.</param>
public sealed record KeepSound(string JobId, SoundRecorded Part) : Command;

/// <summary>End the job without hand-over: nothing was opened, or everything is back.</summary>
public sealed record CloseJob(string Reason) : Command;
