using System.Diagnostics;

namespace Companion.Simulation.Defects;

/// <summary>
/// A copy of the simulator in which one project was compiled with a deliberate mistake. Compiled by the SDK's own compiler from the same
/// sources and references, so that nothing else differs. Deleted on disposal.
/// </summary>
public sealed class Mutant : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-defect-").FullName;

    private Mutant()
    {
    }

    /// <summary>Builds the copy.</summary>
    /// <exception cref="InvalidOperationException">The mistake does not compile; the message is the compiler's.</exception>
    public static Mutant Of(Defect defect, string root)
    {
        var mutant = new Mutant();
        var own = AppContext.BaseDirectory;
        foreach (var file in Directory.EnumerateFiles(own, "*", SearchOption.TopDirectoryOnly))
        {
            File.Copy(file, Path.Combine(mutant._folder, Path.GetFileName(file)));
        }

        var changed = Path.Combine(mutant._folder, "Mutated.cs");
        File.WriteAllText(changed, defect.Mutated(root));
        mutant.Compile(defect, root, changed);
        return mutant;
    }

    /// <summary>Runs the copy; exit code and what it wrote.</summary>
    public (int ExitCode, string Output) Simulate(params string[] arguments) =>
        Run("dotnet", ["exec", Path.Combine(_folder, "Companion.Simulation.dll"), .. arguments]);

    /// <inheritdoc/>
    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private void Compile(Defect defect, string root, string changed)
    {
        var project = Path.Combine(root, "src", defect.Project);
        var configuration = Directory.EnumerateDirectories(Path.Combine(root, "artifacts/obj", defect.Project)).First(folder => Directory.EnumerateFiles(folder, "*.GlobalUsings.g.cs").Any());
        var generated = Directory.EnumerateFiles(configuration, "*.cs").Where(file => !Path.GetFileName(file).StartsWith('.'));
        var sources = Directory.EnumerateFiles(project, "*.cs", SearchOption.AllDirectories)
            .Where(file => Path.GetFullPath(file) != Path.GetFullPath(Path.Combine(root, defect.File)))
            .Concat(generated).Append(changed);
        var output = Path.Combine(_folder, $"{defect.Project}.dll");
        var pages = Directory.EnumerateFiles(project, "*.razor", SearchOption.AllDirectories).ToList();
        var references = Directory.EnumerateFiles(_folder, "*.dll").Where(file => file != output)
            .Concat(Assemblies(Sdk.Pack)).Concat(pages.Count > 0 ? Assemblies(Sdk.WebPack) : []);
        var generators = Directory.EnumerateFiles(Path.Combine(Sdk.Pack, "analyzers/dotnet/cs"), "*.dll");
        var options = Path.Combine(_folder, "compile.rsp");
        File.WriteAllLines(options,
        [
            "/nologo", "/noconfig", "/nostdlib+", "/optimize+", "/unsafe+", "/nullable:enable", "/langversion:latest", "/deterministic+", $"/out:\"{output}\"",
            File.Exists(Path.Combine(project, "Program.cs")) ? "/target:exe" : "/target:library",
            .. references.Select(file => $"/reference:\"{file}\""), .. generators.Select(file => $"/analyzer:\"{file}\""), .. sources.Select(file => $"\"{file}\""),
            .. pages.Count > 0 ? OfPages(pages, configuration) : [],
        ]);
        var (code, said) = Run("dotnet", ["exec", Sdk.Compiler, $"@{options}"]);
        if (code != 0)
        {
            throw new InvalidOperationException($"{defect.Name} does not compile: {said}");
        }
    }

    private static IEnumerable<string> Assemblies(string pack) =>
        Directory.EnumerateFiles(pack, "*.dll", SearchOption.AllDirectories).Where(file => file.Contains("/ref/", StringComparison.Ordinal));

    /// <summary>What the compiler needs for a project with pages.</summary>
    private static IEnumerable<string> OfPages(IEnumerable<string> pages, string configuration) =>
    [
        .. Directory.EnumerateFiles(Sdk.Pages, "*.dll").Select(file => $"/analyzer:\"{file}\""),
        .. pages.Select(file => $"/additionalfile:\"{file}\""),
        .. Directory.EnumerateFiles(configuration, "*.editorconfig").Select(file => $"/analyzerconfig:\"{file}\""),
    ];

    private static (int ExitCode, string Output) Run(string program, string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        process.ErrorDataReceived += (_, _) => { };
        process.BeginErrorReadLine();
        var said = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, said);
    }
}
