using System.Xml.Linq;

namespace Companion.Architecture;

/// <summary>Dependencies point down only: heads to Screens and adapters, adapters to Engine, Engine to Domain.</summary>
public sealed class DependencyTests
{
    private static readonly string[] Adapters = ["Companion.Journal", "Companion.Voice", "Companion.Uplink", "Companion.Sheets"];

    private static readonly string[] Reviewing = ["Companion.Review", "Companion.Papers", "Companion.Pages"];

    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["Companion.Contracts"] = [],
        ["Companion.Domain"] = [],
        ["Companion.Engine"] = ["Companion.Domain", "Companion.Contracts"],
        ["Companion.Journal"] = ["Companion.Engine", "Companion.Domain", "Companion.Contracts"],
        ["Companion.Voice"] = ["Companion.Engine", "Companion.Domain", "Companion.Contracts"],
        ["Companion.Uplink"] = ["Companion.Engine", "Companion.Domain", "Companion.Contracts"],
        ["Companion.Sheets"] = ["Companion.Engine", "Companion.Domain", "Companion.Contracts"],
        ["Companion.Screens"] = ["Companion.Engine", "Companion.Domain", "Companion.Contracts"],
        ["Companion.Review"] = ["Companion.Screens", "Companion.Engine", "Companion.Domain", "Companion.Contracts"],
        ["Companion.Papers"] = ["Companion.Review", "Companion.Screens", "Companion.Engine", "Companion.Domain", "Companion.Contracts"],
        ["Companion.Pages"] = ["Companion.Review", "Companion.Papers", "Companion.Screens", "Companion.Engine", "Companion.Domain", "Companion.Contracts"],
        ["Companion.Tablet"] = ["Companion.Screens", .. Reviewing, "Companion.Engine", "Companion.Domain", "Companion.Contracts", .. Adapters],
        ["Companion.Watchroom"] = ["Companion.Screens", .. Reviewing, "Companion.Engine", "Companion.Domain", "Companion.Contracts", .. Adapters],
    };

    /// <summary>Packages that one project alone may use.</summary>
    private static readonly Dictionary<string, string> Alone = new()
    {
        ["LiteDB"] = "Companion.Journal",
        ["Microsoft.ML.OnnxRuntime"] = "Companion.Voice",
        ["YamlDotNet"] = "Companion.Sheets",
        ["JsonSchema.Net"] = "Companion.Sheets",
        ["SkiaSharp"] = "Companion.Papers",
        ["QRCoder"] = "Companion.Papers",
        ["ZXing.Net"] = "Companion.Papers",
        ["Polly"] = "Companion.Uplink",
        ["Polly.Core"] = "Companion.Uplink",
    };

    private static IEnumerable<string> Projects => [.. Repository.Files("src", ".csproj"), .. Repository.Files("shared", ".csproj")];

    [Fact]
    public void Every_project_refers_only_to_what_lies_below_it()
    {
        foreach (var project in Projects)
        {
            var name = Path.GetFileNameWithoutExtension(project);
            Assert.True(Allowed.ContainsKey(name), $"{name} has no place in the design; give it one here.");
            var above = References(project, "ProjectReference").Select(path => Path.GetFileNameWithoutExtension(path.Replace('\\', '/'))).Except(Allowed[name]);
            Assert.Empty(above);
        }
    }

    [Fact]
    public void The_rules_and_the_loop_use_no_package_at_run_time()
    {
        foreach (var project in Projects.Where(path => Path.GetFileNameWithoutExtension(path) is "Companion.Domain" or "Companion.Engine" or "Companion.Contracts"))
        {
            Assert.Empty(References(project, "PackageReference"));
        }
    }

    [Fact]
    public void Some_packages_belong_to_one_project()
    {
        foreach (var project in Projects)
        {
            foreach (var package in References(project, "PackageReference").Where(Alone.ContainsKey))
            {
                Assert.Equal(Alone[package], Path.GetFileNameWithoutExtension(project));
            }
        }
    }

    [Fact]
    public void Versions_stand_in_one_file_only()
    {
        foreach (var project in Projects.Concat(Repository.Files("tests", ".csproj")))
        {
            var packages = XDocument.Load(Path.Combine(Repository.Root, project)).Descendants().Where(element => element.Name.LocalName == "PackageReference");
            Assert.All(packages, package => Assert.True(
                package.Attribute("Version") is null && package.Attribute("VersionOverride") is null, $"{project} gives {package.Attribute("Include")?.Value} a version"));
        }
    }

    [Fact]
    public void Every_project_locks_its_packages() => Assert.All(
        Projects.Where(project => Path.GetFileNameWithoutExtension(project) is not "Companion.Contracts"),
        project => Assert.True(File.Exists(Path.Combine(Repository.Root, Path.GetDirectoryName(project)!, "packages.lock.json")), $"{project} has no lock file"));

    private static IEnumerable<string> References(string project, string kind) => XDocument.Load(Path.Combine(Repository.Root, project))
        .Descendants()
        .Where(element => element.Name.LocalName == kind)
        .Select(element => element.Attribute("Include")?.Value ?? string.Empty)
        .Where(name => name.Length > 0)
        .ToList();
}
