using System.Diagnostics;
using Companion.Simulation.Endurance;

namespace Companion.Simulation.Tests;

/// <summary>
/// Long jobs: no growth beyond what each journal entry's place in the index costs, no drift, nothing lost. Each lives in a process of its
/// own, so that the memory measured is its own.
/// </summary>
public sealed class EnduranceTests
{
    [Theory]
    [InlineData("day")]
    [InlineData("fullload")]
    public async Task A_long_job_neither_grows_nor_drifts_nor_loses(string load)
    {
        using var job = Process.Start(new ProcessStartInfo("dotnet", [typeof(LongReport).Assembly.Location, "--endurance", load]) { RedirectStandardOutput = true })!;
        var told = await job.StandardOutput.ReadToEndAsync();
        await job.WaitForExitAsync();
        Assert.True(job.ExitCode == 0, told);
        Assert.Matches("memory [0-9]+ KiB after the second hour", told);
    }
}
