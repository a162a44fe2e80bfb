using System.Collections.Frozen;
using System.Text;
using Companion.Screens.Colours;

namespace Companion.Watchroom.Web;

/// <summary>The pages' own files, from inside the assembly. No address names a file of the disk.</summary>
internal static class PageFiles
{
    private const string Folder = "page/";
    private static readonly FrozenDictionary<string, byte[]> Files = Load();

    /// <summary>Maps every file to its own address.</summary>
    public static void Map(IEndpointRouteBuilder routes)
    {
        foreach (var (name, bytes) in Files)
        {
            var type = TypeOf(name);
            routes.MapGet($"/{name}", () => Results.Bytes(bytes, type));
        }
    }

    private static FrozenDictionary<string, byte[]> Load()
    {
        var assembly = typeof(PageFiles).Assembly;
        return assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Folder, StringComparison.Ordinal))
            .Select(name => (Name: name[Folder.Length..], Bytes: Read(name)))
            .Append((Name: "palette.css", Bytes: Encoding.UTF8.GetBytes(Palette.Stylesheet())))
            .ToFrozenDictionary(file => file.Name, file => file.Bytes);
    }

    private static byte[] Read(string name)
    {
        using var stream = typeof(PageFiles).Assembly.GetManifestResourceStream(name)!;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private static string TypeOf(string name) => Path.GetExtension(name) switch
    {
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".svg" => "image/svg+xml",
        ".otf" => "font/otf",
        _ => "application/octet-stream",
    };
}
