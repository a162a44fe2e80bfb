using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.HandingOver;
using Companion.Engine;
using Companion.Screens.Answering;

namespace Companion.Screens.Showing;

/// <summary>Everything of the job screen that changes with the job, not with the clock. Immutable.</summary>
public sealed record JobView
{
    /// <summary>Which screen is up.</summary>
    public required ViewKind Kind { get; init; }

    /// <summary>True in a rehearsal store; shown at all times.</summary>
    public bool Rehearsal { get; init; }

    /// <summary>The vehicle, or what stands in for it.</summary>
    public string Title { get; init; } = string.Empty;

    /// <summary>Who is there.</summary>
    public string People { get; init; } = string.Empty;

    /// <summary>That sound is recorded, for how long it is kept and who ordered it; empty when none is.</summary>
    public string Sound { get; init; } = string.Empty;

    /// <summary>Where the job stands: "Step 6 of 16".</summary>
    public string Place { get; init; } = string.Empty;

    /// <summary>What is asked, or the echo that must be confirmed.</summary>
    public string Ask { get; init; } = string.Empty;

    /// <summary>The open question as the page carries it.</summary>
    public QuestionKey Key { get; init; }

    /// <summary>The code to repeat by voice; null when none is asked.</summary>
    public string? Code { get; init; }

    /// <summary>What may be said now.</summary>
    public ImmutableArray<string> MayBeSaid { get; init; } = [];

    /// <summary>The last thing heard or pressed.</summary>
    public HeardLine? Heard { get; init; }

    /// <summary>Banners, the gravest first.</summary>
    public ImmutableArray<Banner> Banners { get; init; } = [];

    /// <summary>What is peculiar to the vehicle by its sheet, for as long as the job lasts; empty for most.</summary>
    public string Note { get; init; } = string.Empty;

    /// <summary>True while somebody watches over the technician: the key to check in is there.</summary>
    public bool IsWatchedOver { get; init; }

    /// <summary>How a check-in is asked for, in a word or two, while it is asked for, due or missed; null otherwise.</summary>
    public string? CheckInAsked => Banners.FirstOrDefault(banner => banner.Kind == BannerKind.CheckIn)?.Title;

    /// <summary>True while the watch room's word is still to be had before live parts are exposed: an arrangement may take its place.</summary>
    public bool MayArrange { get; init; }

    /// <summary>True for a warning, or a failed store: it takes the whole screen until it is answered (I19).</summary>
    public bool IsGrave => this is { Kind: ViewKind.Job, Banners: [{ Kind: BannerKind.Alarm or BannerKind.NotRecording }, ..] };

    /// <summary>What is proved and cleared, with place, time and what stays live (I15).</summary>
    public ImmutableArray<string> Statements { get; init; } = [];

    /// <summary>The watching readings of the place that is tested next; null when there is nothing to draw.</summary>
    public DischargePlot? Discharge { get; init; }

    /// <summary>What the next person must know; null before a sheet is chosen.</summary>
    public HandOverSheet? HandOver { get; init; }

    /// <summary>The steps.</summary>
    public ImmutableArray<StepLine> Steps { get; init; } = [];

    /// <summary>The sheets to choose from, while one is to be chosen.</summary>
    public ImmutableArray<SheetLine> Sheets { get; init; } = [];

    /// <summary>Answers beside the big buttons, each on a button of its own.</summary>
    public ImmutableArray<Phrase> Choices { get; init; } = [];

    /// <summary>The number that is wanted.</summary>
    public NumberNeed? Number { get; init; }

    /// <summary>What has been typed.</summary>
    public Entry Entry { get; init; } = Entry.Empty;

    /// <summary>The three big buttons.</summary>
    public required ButtonRow Buttons { get; init; }
}

/// <summary>Which screen is up.</summary>
public enum ViewKind
{
    /// <summary>No word from the engine.</summary>
    NotConnected,

    /// <summary>No job: one may be opened.</summary>
    Start,

    /// <summary>A job.</summary>
    Job,

    /// <summary>A job that has ended.</summary>
    Ended,
}
