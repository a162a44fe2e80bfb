using System.Collections.Immutable;

namespace Companion.Domain.Arrival;

/// <summary>How far the arrival list is settled.</summary>
/// <param name="List">The list.</param>
public sealed record Scene(ArrivalList List)
{
    /// <summary>The answers so far. A remedy that was answered with yes and then mended stands as done.</summary>
    public ImmutableDictionary<ArrivalItemId, SceneAnswer> Answers { get; init; } = ImmutableDictionary<ArrivalItemId, SceneAnswer>.Empty;

    /// <summary>True once the answers were read back and confirmed by code.</summary>
    public bool Confirmed { get; init; }

    /// <summary>The first item that is not settled; null when all are.</summary>
    public ArrivalItem? Next => List.Items.FirstOrDefault(item => !IsSettled(item));

    /// <summary>True when the item has its answer, and its remedy if it needed one.</summary>
    public bool IsSettled(ArrivalItem item) =>
        Answers.TryGetValue(item.Id, out var answer) && (item.Leads != Leads.Remedy || answer != SceneAnswer.Yes);

    /// <summary>The damage and hazards that were answered with yes.</summary>
    public IEnumerable<ArrivalItem> Hazards => List.Items.Where(item => Answers.GetValueOrDefault(item.Id) == SceneAnswer.Yes);
}
