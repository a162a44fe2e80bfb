using Companion.Domain.Deciding;
using Companion.Domain.Sheets;
using Companion.Engine.Ports;

namespace Companion.TestKit;

/// <summary>A catalogue that a test can change while a job runs.</summary>
public sealed class FakeSheets(params Sheet[] sheets) : ISheetCatalogue
{
    private List<OfferedSheet> _offered = [.. sheets.Select(Offer)];

    /// <inheritdoc/>
    public IReadOnlyList<OfferedSheet> All() => [.. _offered];

    /// <inheritdoc/>
    public OfferedSheet? Find(int number) => _offered.FirstOrDefault(offered => offered.Sheet.Number == number);

    /// <summary>Somebody edits the files.</summary>
    public void Replace(params Sheet[] edited) => _offered = [.. edited.Select(Offer)];

    private static OfferedSheet Offer(Sheet sheet) => new(sheet, $"digest-{sheet.Id}-{sheet.Edition}");
}
