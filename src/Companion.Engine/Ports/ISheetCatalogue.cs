using Companion.Domain.Deciding;

namespace Companion.Engine.Ports;

/// <summary>The sheets that may be chosen. Read anew whenever asked: a job keeps its own pinned copy.</summary>
public interface ISheetCatalogue
{
    /// <summary>All sound sheets, by number.</summary>
    IReadOnlyList<OfferedSheet> All();

    /// <summary>The sheet with this number; null when there is none.</summary>
    OfferedSheet? Find(int number);
}
