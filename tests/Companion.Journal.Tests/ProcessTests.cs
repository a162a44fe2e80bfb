using System.Diagnostics;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;
using Xunit.Abstractions;

namespace Companion.Journal.Tests;

/// <summary>Real processes, a real disk and SIGKILL. COMPANION_KILLS asks for more kills.</summary>
public sealed class ProcessTests(ITestOutputHelper output) : IDisposable
{
    /// <summary>Kills one store has to live through: long enough to meet what earlier ones left, short enough to check in full each time.</summary>
    private const int KillsPerStore = 10;
    private const int MostLines = 40;
    private const int LongestDelayMilliseconds = 30;
    private const int HashLength = 64;

    private static readonly int Kills = Scale.Of("COMPANION_KILLS", 20);

    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    // I12
    [Fact]
    public async Task An_export_on_a_real_disk_is_verified_as_a_file()
    {
        var store = Path.Combine(folder.Path, "store");
        var export = Path.Combine(folder.Path, "export.ndjson");
        await using (await JournalStore.OpenAsync(store, new StoreOptions(new FixedClock()) { Kind = StoreKind.Rehearsal }))
        {
        }

        using (var output = File.Create(export))
        {
            JournalExport.Write(store, output);
        }

        Assert.True(JournalVerifier.Verify(export).IsSound);
    }

    [Fact]
    public async Task A_process_killed_at_any_moment_loses_nothing_it_had_acknowledged()
    {
        var chance = new Random(5);
        var acknowledged = new List<string>();
        var (appends, erasures, trimmed, caughtUp) = (0, 0, 0, 0);
        for (var kill = 0; kill < Kills; kill++)
        {
            if (kill % KillsPerStore == 0)
            {
                acknowledged.Clear();
            }

            var store = Path.Combine(folder.Path, $"{kill / KillsPerStore}");
            acknowledged.AddRange(await AppendUntilKilled(store, chance));
            var findings = await Check(store, acknowledged, $"kill {kill}");
            trimmed += findings.Count(f => f.Message.Contains("interrupted", StringComparison.Ordinal));
            caughtUp += findings.Count(f => f.Message.Contains("second copy", StringComparison.Ordinal));
            if (kill % KillsPerStore == KillsPerStore - 1 || kill == Kills - 1)
            {
                appends += acknowledged.Count(l => l.StartsWith("append", StringComparison.Ordinal));
                erasures += acknowledged.Count(l => l.StartsWith("erase", StringComparison.Ordinal));
            }
        }

        output.WriteLine($"{Kills} kills, {appends} entries and {erasures} erasures acknowledged, {trimmed} trimmed, {caughtUp} caught up");
        Assert.True(appends > Kills, "hardly anything was acknowledged");
    }

    [Fact]
    public async Task A_store_open_in_another_process_is_refused_and_can_still_be_exported_and_verified()
    {
        using var other = Start(folder.Path, "hold");
        Assert.Equal("open", await other.StandardOutput.ReadLineAsync());
        var refusal = await Assert.ThrowsAsync<StoreFaultException>(() => Open(folder.Path));
        Assert.Contains("already open", refusal.Message);
        using var exported = new MemoryStream();
        Assert.Equal(1, JournalExport.Write(folder.Path, exported));
        Assert.True(JournalVerifier.Verify(folder.Path).IsSound, string.Join("\n", JournalVerifier.Verify(folder.Path).Lines()));
        other.StandardInput.Close();
        await other.WaitForExitAsync();
        Assert.Equal(0, other.ExitCode);
        await using var store = await Open(folder.Path);
        Assert.Empty(store.Findings);
    }

    /// <summary>Opens what the kill left: everything acknowledged is there, what was erased is gone, and the store is sound.</summary>
    private static async Task<IReadOnlyList<StoreFinding>> Check(string path, List<string> acknowledged, string where)
    {
        AssertSound(path, $"{where}, as it was left");
        IReadOnlyList<StoreFinding> findings;
        await using (var store = await Open(path))
        {
            findings = store.Findings;
            Assert.False(findings.Any(f => f.Severe), $"{where}: {string.Join(" | ", findings)}");
            var held = store.Read("job-crash").ToDictionary(e => e.Hash);
            foreach (var line in acknowledged)
            {
                Assert.True(held.TryGetValue(line[^HashLength..], out var entry), $"{where}: {line} is missing");
                Assert.True(line.StartsWith("append", StringComparison.Ordinal) || entry.Sealed.Count == 0, $"{where}: {line} is back");
            }
        }

        AssertSound(path, $"{where}, opened and closed");
        return findings;
    }

    private static void AssertSound(string path, string where)
    {
        var report = JournalVerifier.Verify(path);
        Assert.True(report.ExitCode == 0, $"{where}: {string.Join(" | ", report.Lines())}");
    }

    private static async Task<List<string>> AppendUntilKilled(string path, Random chance)
    {
        using var child = Start(path);
        Assert.Equal("open", await child.StandardOutput.ReadLineAsync());
        var lines = new List<string>();
        for (var most = chance.Next(MostLines); lines.Count < most && await child.StandardOutput.ReadLineAsync() is { } line;)
        {
            lines.Add(line);
        }

        // The kill falls anywhere between two acknowledgements, not only right after one.
        await Task.Delay(chance.Next(LongestDelayMilliseconds));
        child.Kill();
        while (await child.StandardOutput.ReadLineAsync() is { } line)
        {
            lines.Add(line);
        }

        await child.WaitForExitAsync();

        // The last line may have been cut off with the process.
        return [.. lines.Where(l => l.Length >= HashLength && l.Length - l.IndexOf(' ', StringComparison.Ordinal) - 1 == HashLength)];
    }

    private static Task<JournalStore> Open(string path) =>
        JournalStore.OpenAsync(path, new StoreOptions(new FixedClock()) { Kind = StoreKind.Rehearsal });

    private static Process Start(string path, params string[] mode)
    {
        var program = Path.Combine(AppContext.BaseDirectory, "Companion.Journal.Crasher.dll");
        var start = new ProcessStartInfo(Environment.ProcessPath!)
        {
            RedirectStandardOutput = true,
            RedirectStandardInput = true,
            UseShellExecute = false,
        };
        string[] arguments = [program, path, .. mode];
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }
}
