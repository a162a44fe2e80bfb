using System.Collections.Immutable;

namespace Companion.Domain.Sheets;

/// <summary>Another way, for when a step cannot be done. It has its own steps, and with them its own points, waits and test places.</summary>
/// <param name="Id">Its id; never "main".</param>
/// <param name="Name">Spoken name: "by the cut loop".</param>
/// <param name="For">The steps whose "cannot do" leads here. Steps of an earlier way only, so that no loop can arise.</param>
/// <param name="Steps">Its ordered list. Points already open and locked are not asked for again.</param>
public sealed record AlternativeWay(WayId Id, string Name, ImmutableArray<StepId> For, ImmutableArray<Step> Steps);
