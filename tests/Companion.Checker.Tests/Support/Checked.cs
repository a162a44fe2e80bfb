using Companion.Journal.Proof;
using Companion.TestKit;

namespace Companion.Checker.Tests.Support;

/// <summary>Runs both verifiers over an export.</summary>
public static class Checked
{
    /// <summary>What the independent checker says about an export.</summary>
    public static async Task<CheckerReport> AsFileAsync(string export)
    {
        var file = FreshName();
        try
        {
            await File.WriteAllTextAsync(file, export);
            return await IndependentChecker.CheckAsync(file);
        }
        finally
        {
            File.Delete(file);
        }
    }

    /// <summary>The export has no fault.</summary>
    public static async Task AssertSoundAsync(string export)
    {
        var report = await AsFileAsync(export);
        Assert.True(report.Exit == 0 && report.Lines.Count == 1, report.ToString());
    }

    /// <summary>
    /// The forged job is objected to with these words, and by these rules only. Its chain and signatures are right, as the product's own
    /// verifier confirms, so nothing but the rules of the job stands against it.
    /// </summary>
    public static async Task AssertOnlyTheRulesObjectAsync(Forgery forgery, string words, params string[] rules)
    {
        var export = forgery.Write();
        var report = await AsFileAsync(export);
        Assert.Equal(1, report.Exit);
        Assert.Contains(words, string.Join('\n', report.Faults), StringComparison.Ordinal);
        Assert.All(report.Faults, fault => Assert.Contains(fault.Split(": ")[1], rules));
        Assert.True(IsSoundToTheProduct(export));
    }

    /// <summary>The damaged file is objected to with these words, and by this check only.</summary>
    public static async Task AssertDamagedAsync(string export, string words, string check)
    {
        var report = await AsFileAsync(export);
        Assert.Equal(1, report.Exit);
        Assert.NotEmpty(report.Faults);
        Assert.All(report.Faults, fault => Assert.Equal(check, fault.Split(": ")[1]));
        Assert.Contains(report.Faults, fault => fault.Contains(words, StringComparison.Ordinal));
    }

    private static string FreshName() => Path.Combine(Path.GetTempPath(), $"companion-{Guid.NewGuid():N}.ndjson");

    private static bool IsSoundToTheProduct(string export)
    {
        var file = FreshName();
        try
        {
            File.WriteAllText(file, export);
            return JournalVerifier.Verify(file).IsSound;
        }
        finally
        {
            File.Delete(file);
        }
    }
}
