using System.Collections.Immutable;

namespace Companion.Domain.Arrival;

/// <summary>What the operator has settled for the minutes before anyone touches the vehicle.</summary>
/// <param name="Id">The list's name in files and exports.</param>
/// <param name="EmergencyNumber">The number to call, digits only.</param>
/// <param name="StandOffCentimetres">How far everybody keeps from a pack that may burn.</param>
/// <param name="Items">The items, in order.</param>
public sealed record ArrivalList(string Id, string EmergencyNumber, int StandOffCentimetres, ImmutableArray<ArrivalItem> Items)
{
    /// <summary>50 ft, clear on all sides (NHTSA interim guidance and SAE J2990, as reported): 15.24 m, and 15.2 m is not enough.</summary>
    public const int LeastStandOffCentimetres = 1524;

    /// <summary>The item with that id, or null.</summary>
    public ArrivalItem? Find(string id) => Items.FirstOrDefault(item => item.Id.Value == id);
}
