using System.Diagnostics;

namespace Companion.TestKit;

/// <summary>What the independent checker said about exported files.</summary>
/// <param name="Exit">0 no fault, 1 faults, 2 a file could not be read.</param>
/// <param name="Lines">Its standard output: faults and notes, the totals last.</param>
/// <param name="Trouble">Its standard error: what could not be read, and why.</param>
public sealed record CheckerReport(int Exit, IReadOnlyList<string> Lines, string Trouble)
{
    /// <summary>The lines that name a fault.</summary>
    public IReadOnlyList<string> Faults => [.. Lines.Where(line => line.Contains("line ", StringComparison.Ordinal))];

    /// <summary>All that it said.</summary>
    public override string ToString() => string.Join(Environment.NewLine, [.. Lines, Trouble, $"exit code {Exit}"]);
}

/// <summary>
/// Starts `tests/checker/check_export.py`, a program that shares no code with the product, over exported journals. Many files are
/// checked in one process. Callable from any thread.
/// </summary>
public static class IndependentChecker
{
    /// <summary>Where it stands in the checkout.</summary>
    public static string Script { get; } = Find();

    /// <summary>Checks files.</summary>
    /// <exception cref="System.ComponentModel.Win32Exception">There is no python3.</exception>
    public static async Task<CheckerReport> CheckAsync(params string[] arguments)
    {
        var start = new ProcessStartInfo("python3", [Script, .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true };
        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var trouble = process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync().ConfigureAwait(false);
        var lines = (await output.ConfigureAwait(false)).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        return new CheckerReport(process.ExitCode, lines, await trouble.ConfigureAwait(false));
    }

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            var script = Path.Combine(folder.FullName, "tests", "checker", "check_export.py");
            if (File.Exists(script))
            {
                return script;
            }
        }

        throw new InvalidOperationException("tests/checker/check_export.py stands in no folder above the tests.");
    }
}
