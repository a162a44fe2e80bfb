using System.Collections.Frozen;
using System.Reflection;
using System.Text;
using Companion.Screens.Colours;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Companion.Tablet.Web;

/// <summary>The page's own files, from inside the assembly, and the stylesheet of the palette.</summary>
internal static class PageFiles
{
    /// <summary>The stylesheet that names the colours.</summary>
    public const string PaletteName = "palette.css";

    private const string Folder = "page/";

    private static readonly FrozenDictionary<string, byte[]> Files = Load();

    /// <summary>Maps every file to its own address; there is no other way to any file.</summary>
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
            .Select(name => (Name: name[Folder.Length..], Bytes: Read(assembly, name)))
            .Append((Name: PaletteName, Bytes: Encoding.UTF8.GetBytes(Palette.Stylesheet())))
            .ToFrozenDictionary(file => file.Name, file => file.Bytes);
    }

    private static byte[] Read(Assembly assembly, string name)
    {
        using var stream = assembly.GetManifestResourceStream(name)!;
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
