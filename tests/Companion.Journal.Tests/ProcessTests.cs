using System.Diagnostics;
using System.Globalization;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;

namespace Companion.Journal.Tests;

/// <summary>Real processes, a real disk and SIGKILL. COMPANION_KILLS asks for more kills.</summary>
public sealed class ProcessTests : IDisposable
{
    private static readonly int Kills = int.Parse(
        Environment.GetEnvironmentVariable("COMPANION_KILLS") ?? "20", CultureInfo.InvariantCulture);

    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_process_killed_while_appending_loses_nothing_it_had_acknowledged()
    {
        var acknowledged = new List<string>();
        var chance = new Random(5);
        for (var kill = 0; kill < Kills; kill++)
        {
            acknowledged.AddRange(await AppendUntilKilled(linesBeforeKill: chance.Next(1, 40)));
        }

        await using (var store = await JournalStore.OpenAsync(folder.Path, new StoreOptions(new FixedClock()) { Kind = StoreKind.Rehearsal }))
        {
            Assert.DoesNotContain(store.Findings, f => f.Severe);
            var held = store.Read("job-crash").Select(e => e.Hash).ToHashSet();
            Assert.True(acknowledged.Count >= Kills);
            Assert.DoesNotContain(acknowledged, hash => !held.Contains(hash));
        }

        var report = JournalVerifier.Verify(folder.Path);
        Assert.True(report.IsSound, string.Join("\n", report.Lines()));
    }

    [Fact]
    public async Task A_store_open_in_another_process_is_refused_and_can_still_be_exported_and_verified()
    {
        using var other = Start("hold");
        Assert.Equal("open", await other.StandardOutput.ReadLineAsync());
        var refusal = await Assert.ThrowsAsync<StoreFaultException>(
            () => JournalStore.OpenAsync(folder.Path, new StoreOptions(new FixedClock()) { Kind = StoreKind.Rehearsal }));
        Assert.Contains("already open", refusal.Message);
        using var output = new MemoryStream();
        Assert.Equal(1, JournalExport.Write(folder.Path, output));
        Assert.True(JournalVerifier.Verify(folder.Path).IsSound, string.Join("\n", JournalVerifier.Verify(folder.Path).Lines()));
        other.StandardInput.Close();
        await other.WaitForExitAsync();
        Assert.Equal(0, other.ExitCode);
        await using var store = await JournalStore.OpenAsync(folder.Path, new StoreOptions(new FixedClock()) { Kind = StoreKind.Rehearsal });
        Assert.Empty(store.Findings);
    }

    private async Task<List<string>> AppendUntilKilled(int linesBeforeKill)
    {
        using var child = Start();
        var lines = new List<string>();
        while (lines.Count <= linesBeforeKill && await child.StandardOutput.ReadLineAsync() is { } line)
        {
            lines.Add(line);
        }

        child.Kill();
        while (await child.StandardOutput.ReadLineAsync() is { } line)
        {
            lines.Add(line);
        }

        await child.WaitForExitAsync();
        Assert.Equal("open", lines[0]);

        // The last line may have been cut off with the process.
        return [.. lines.Skip(1).Where(l => l.Length == 64)];
    }

    private Process Start(params string[] mode)
    {
        var program = Path.Combine(AppContext.BaseDirectory, "Companion.Journal.Crasher.dll");
        var start = new ProcessStartInfo(Environment.ProcessPath!)
        {
            RedirectStandardOutput = true,
            RedirectStandardInput = true,
            UseShellExecute = false,
        };
        string[] arguments = [program, folder.Path, .. mode];
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }
}
