using System.Collections.Immutable;

namespace Companion.Domain.Kit;

/// <summary>The equipment that one technician takes to a job.</summary>
/// <param name="Id">Its name in files and exports.</param>
/// <param name="Name">Its spoken name.</param>
/// <param name="Items">What is in it.</param>
public sealed record KitList(string Id, string Name, ImmutableArray<KitItem> Items)
{
    /// <summary>The item with that id, or null.</summary>
    public KitItem? Find(KitId id) => Items.FirstOrDefault(item => item.Id == id);
}
