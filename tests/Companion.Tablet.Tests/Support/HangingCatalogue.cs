using Companion.Domain.Deciding;
using Companion.Engine.Ports;

namespace Companion.Tablet.Tests.Support;

/// <summary>Sheets that are found only while the valve is open, as on a disk that does not answer.</summary>
internal sealed class HangingCatalogue(ISheetCatalogue inner, Valve valve) : ISheetCatalogue
{
    /// <inheritdoc/>
    public IReadOnlyList<OfferedSheet> All()
    {
        valve.Pass();
        return inner.All();
    }

    /// <inheritdoc/>
    public OfferedSheet? Find(int number)
    {
        valve.Pass();
        return inner.Find(number);
    }
}
