using Companion.Domain.Sheets;

namespace Companion.Sheets.Tests;

/// <summary>The seed files as they lie beside the tests.</summary>
internal static class Seeds
{
    public static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "seeds");

    public static readonly string SheetFolder = Path.Combine(Folder, "sheets");

    public static string Text(string name) => File.ReadAllText(Path.Combine(SheetFolder, name + ".yaml"));

    public static Sheet Sheet(string name) => SheetReader.ReadFile(Path.Combine(SheetFolder, name + ".yaml")).Sheet!;

    public static IEnumerable<string> SheetNames() => Directory.GetFiles(SheetFolder, "*.yaml").Select(path => Path.GetFileNameWithoutExtension(path)).Order();
}
