using Companion.Domain.Deciding;
using Companion.Engine.Ports;

namespace Companion.Review.Replaying;

/// <summary>What sheets were on offer is not recorded; the one that was chosen is.</summary>
internal sealed class NoSheets : ISheetCatalogue
{
    public static readonly NoSheets Instance = new();

    public IReadOnlyList<OfferedSheet> All() => [];

    public OfferedSheet? Find(int number) => null;
}
