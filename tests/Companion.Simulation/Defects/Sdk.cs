namespace Companion.Simulation.Defects;

/// <summary>Where the SDK that runs this keeps its compiler and its reference assemblies.</summary>
internal static class Sdk
{
    private static readonly string Root = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(typeof(object).Assembly.Location)!, "../../.."));

    /// <summary>The C# compiler.</summary>
    public static string Compiler => Path.Combine(Newest(Path.Combine(Root, "sdk")), "Roslyn/bincore/csc.dll");

    /// <summary>The pack of reference assemblies, with the source generators that go with them.</summary>
    public static string Pack => Newest(Path.Combine(Root, "packs/Microsoft.NETCore.App.Ref"));

    /// <summary>The pack of a web service's reference assemblies.</summary>
    public static string WebPack => Newest(Path.Combine(Root, "packs/Microsoft.AspNetCore.App.Ref"));

    /// <summary>The folder of the compiler for pages.</summary>
    public static string Pages => Path.Combine(Newest(Path.Combine(Root, "sdk")), "Sdks/Microsoft.NET.Sdk.Razor/source-generators");

    private static string Newest(string folder) => Directory.EnumerateDirectories(folder)
        .Where(path => Version.TryParse(Path.GetFileName(path), out var version) && version.Major == Environment.Version.Major)
        .MaxBy(path => Version.Parse(Path.GetFileName(path)))
        ?? throw new DirectoryNotFoundException($"There is nothing of .NET {Environment.Version.Major} in {folder}: install its SDK.");
}
