using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Companion.Pages.Record;

/// <summary>The shared pages' own files, from inside the assembly. No address names a file of the disk.</summary>
public static class PageAssets
{
    private const string Folder = "page/";

    /// <summary>Maps every file to its own address at the root.</summary>
    public static void Map(IEndpointRouteBuilder routes)
    {
        var assembly = typeof(PageAssets).Assembly;
        foreach (var name in assembly.GetManifestResourceNames().Where(name => name.StartsWith(Folder, StringComparison.Ordinal)))
        {
            using var stream = assembly.GetManifestResourceStream(name)!;
            var bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            var type = name.EndsWith(".css", StringComparison.Ordinal) ? "text/css; charset=utf-8" : "text/javascript; charset=utf-8";
            routes.MapGet($"/{name[Folder.Length..]}", () => Results.Bytes(bytes, type));
        }
    }
}
