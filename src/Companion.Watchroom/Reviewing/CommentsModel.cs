using System.Collections.Immutable;

namespace Companion.Watchroom.Reviewing;

/// <summary>What the page of comments shows.</summary>
/// <param name="Device">The device.</param>
/// <param name="Job">The job.</param>
/// <param name="Comments">The comments, oldest first.</param>
public sealed record CommentsModel(string Device, string Job, ImmutableArray<Comment> Comments)
{
    /// <summary>The address of the job's record.</summary>
    public string Record => $"/jobs/{Uri.EscapeDataString(Device)}/{Uri.EscapeDataString(Job)}";

    /// <summary>The address of the page.</summary>
    public string Address => $"{Record}/comments";
}
