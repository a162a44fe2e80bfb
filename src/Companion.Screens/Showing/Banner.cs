namespace Companion.Screens.Showing;

/// <summary>A line that stands above everything else.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Title">The kind in a word or two.</param>
/// <param name="Text">What is the matter, and what to do.</param>
public sealed record Banner(BannerKind Kind, string Title, string Text);

/// <summary>Kinds of banner, the gravest first.</summary>
public enum BannerKind
{
    /// <summary>The store failed: nothing permissive is accepted.</summary>
    NotRecording,

    /// <summary>A warning that waits to be answered.</summary>
    Alarm,

    /// <summary>The record was found damaged; stands until a person has answered.</summary>
    Record,

    /// <summary>A check-in is asked for, due or missed.</summary>
    CheckIn,

    /// <summary>The job does not go on.</summary>
    Halt,

    /// <summary>There was a gap; nothing counts until it is settled.</summary>
    Doubt,

    /// <summary>A device is lost.</summary>
    Device,
}
