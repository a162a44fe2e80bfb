using Companion.Domain.Deciding;
using Companion.Engine.Ports;
using Companion.Sheets;

namespace Companion.Tablet;

/// <summary>The sheets of a folder, read anew when a file changed: a job keeps its own pinned copy whatever happens to the file.</summary>
public sealed class FolderCatalogue(string folder) : ISheetCatalogue
{
    private readonly Lock _gate = new();
    private string _state = string.Empty;
    private IReadOnlyList<OfferedSheet> _offered = [];

    /// <summary>What is wrong with files of the folder, a line each: "FILE: line N, PATH: what and how to mend it".</summary>
    public IReadOnlyList<string> Problems { get; private set; } = [];

    /// <inheritdoc/>
    public IReadOnlyList<OfferedSheet> All()
    {
        lock (_gate)
        {
            var state = State();
            if (state != _state)
            {
                var library = SheetLibrary.Load(folder);
                _offered = [.. library.Sheets.Select(sheet => new OfferedSheet(sheet, SheetDigest.Of(sheet)))];
                Problems = [.. library.Problems.SelectMany(file => file.Value.Select(problem => $"{file.Key}: {problem}"))];
                _state = state;
            }

            return _offered;
        }
    }

    /// <inheritdoc/>
    public OfferedSheet? Find(int number) => All().FirstOrDefault(offered => offered.Sheet.Number == number);

    private static bool IsRead(string path) => Path.GetExtension(path) is ".yaml" or ".pdf";

    private string State()
    {
        if (!Directory.Exists(folder))
        {
            return "none";
        }

        var files = Directory.EnumerateFiles(folder).Where(IsRead).Order(StringComparer.Ordinal).Select(path => new FileInfo(path));
        return string.Join('|', files.Select(file => $"{file.Name}:{file.Length}:{file.LastWriteTimeUtc.Ticks}"));
    }
}
