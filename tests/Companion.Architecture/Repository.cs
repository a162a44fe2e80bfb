namespace Companion.Architecture;

/// <summary>The repository's files, found from where the tests run.</summary>
internal static class Repository
{
    private static readonly string[] NotSource = ["artifacts", "bin", "obj", "node_modules", ".git"];

    /// <summary>The folder with the solution.</summary>
    public static readonly string Root = Find();

    /// <summary>All files of an extension under a folder, build outputs left out, as paths from the root.</summary>
    public static IReadOnlyList<string> Files(string folder, params string[] extensions)
    {
        var at = Path.Combine(Root, folder);
        return !Directory.Exists(at) ? [] : [.. Directory.EnumerateFiles(at, "*", SearchOption.AllDirectories)
            .Select(file => Path.GetRelativePath(Root, file).Replace('\\', '/'))
            .Where(file => extensions.Any(extension => file.EndsWith(extension, StringComparison.Ordinal)))
            .Where(file => !file.Split('/').Any(part => NotSource.Contains(part)))
            .Order(StringComparer.Ordinal)];
    }

    /// <summary>The text of a file.</summary>
    public static string Read(string file) => File.ReadAllText(Path.Combine(Root, file));

    /// <summary>C# files of the product and its tests, without what generators wrote.</summary>
    public static IReadOnlyList<string> Code() => [.. Files("src", ".cs"), .. Files("tests", ".cs"), .. Files("shared", ".cs")];

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Companion.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException("Companion.sln stands in no folder above the tests.");
    }
}
