using Companion.Review;
using Microsoft.AspNetCore.Components;

namespace Companion.Pages.Record;

/// <summary>How a head shows records.</summary>
/// <param name="Root">The address of the list, "/record" or "/jobs".</param>
/// <param name="Back">What the link back to the head's own first page says.</param>
public sealed record RecordHead(string Root, string Back)
{
    /// <summary>False while records may not be shown: the page then leads back. Asked on every request, from any thread.</summary>
    public Func<bool> MayLook { get; init; } = () => true;

    /// <summary>Stands below the timeline: the replay.</summary>
    public Func<RecordSight, RenderFragment>? Replay { get; init; }

    /// <summary>Stands below the replay: remarks.</summary>
    public Func<RecordSight, RenderFragment>? Remarks { get; init; }

    /// <summary>Stands in the page's head: links to papers.</summary>
    public Func<RecordSight, RenderFragment>? Papers { get; init; }

    /// <summary>The address of a record.</summary>
    public string AddressOf(RecordName name) => name.Device.Length == 0 ? $"{Root}/{name.Chain}" : $"{Root}/{name.Device}/{name.Chain}";
}

/// <summary>A record that is being looked at.</summary>
/// <param name="Name">Which.</param>
/// <param name="Job">The record.</param>
/// <param name="Address">Its page's address.</param>
public sealed record RecordSight(RecordName Name, RecordedJob Job, string Address);
