using Companion.Checker.Tests.Support;
using Companion.TestKit;

namespace Companion.Checker.Tests;

/// <summary>Exports that were changed after they were written (I12).</summary>
public sealed class DamagedFileTests
{
    [Fact]
    public async Task A_flipped_byte_is_found()
    {
        var export = await HonestJobs.Plain;

        await Checked.AssertDamagedAsync(export.Replace("Sound check.", "Sound shack.", StringComparison.Ordinal), "changed after it was written", "chain");
    }

    [Theory]
    [InlineData(5)]
    [InlineData(100)]
    public async Task A_removed_entry_is_found(int line)
    {
        var lines = Lines(await HonestJobs.Plain);
        lines.RemoveAt(line);

        await Checked.AssertDamagedAsync(Text(lines), "entries are missing or doubled", "chain");
    }

    [Fact]
    public async Task The_end_of_a_job_that_was_cut_off_is_found()
    {
        var lines = Lines(await HonestJobs.Plain);
        lines.RemoveAt(lines.Count - 1);

        await Checked.AssertDamagedAsync(Text(lines), "its end is missing", "chain");
    }

    [Fact]
    public async Task The_end_of_the_tablets_chain_that_was_cut_off_is_found()
    {
        var lines = Lines(await HonestJobs.Plain);
        lines.RemoveAt(lines.FindLastIndex(line => line.Contains("head.signed", StringComparison.Ordinal)));

        await Checked.AssertDamagedAsync(Text(lines), "the tablet's chain is cut off", "chain");
    }

    [Fact]
    public async Task A_job_that_is_not_the_one_that_was_signed_is_found()
    {
        var honest = Lines(await HonestJobs.Plain);
        var forgery = Forgery.Of(await HonestJobs.Plain);
        forgery.Find("prompt.spoken").Data["text"] = "Something else.";
        var tablet = honest.TakeWhile(line => line.Contains("\"id\":\"tablet/", StringComparison.Ordinal)).Count();

        await Checked.AssertDamagedAsync(
            Text([.. honest.Take(tablet), .. Lines(forgery.Write()).Skip(tablet)]), "is not the one that was signed as its end", "chain");
    }

    [Fact]
    public async Task A_job_put_together_from_two_is_found()
    {
        var forgery = Forgery.Of(await HonestJobs.Plain);
        forgery.Find("prompt.spoken").Data["text"] = "Something else.";

        await Checked.AssertDamagedAsync(
            Text([.. Lines(forgery.Write()).Take(100), .. Lines(await HonestJobs.Plain).Skip(100)]), "which has another hash", "chain");
    }

    [Fact]
    public async Task A_signature_by_another_key_is_found() => await Checked.AssertDamagedAsync(
        Forgery.Of(await HonestJobs.Plain).Write(foreignSignatures: true), "does not fit the tablet's key", "signature");

    [Fact]
    public async Task A_sealed_text_that_was_swapped_is_found()
    {
        var export = await HonestJobs.Plain;
        Assert.Contains("\"text\":\"Marit\"", export, StringComparison.Ordinal);

        await Checked.AssertDamagedAsync(
            export.Replace("\"text\":\"Marit\"", "\"text\":\"Merit\"", StringComparison.Ordinal), "the text beside 'secondperson'", "sealed");
    }

    [Fact]
    public async Task A_line_that_is_no_entry_is_found()
    {
        var lines = Lines(await HonestJobs.Plain);
        lines.Add("[]");

        await Checked.AssertDamagedAsync(Text(lines), "this is not an entry", "form");
    }

    [Fact]
    public async Task A_line_in_another_form_of_the_same_meaning_is_found()
    {
        var export = await HonestJobs.Plain;

        await Checked.AssertDamagedAsync(
            export.Replace("Sound check.", "\\u0053ound check.", StringComparison.Ordinal), "not in its canonical form", "form");
    }

    [Fact]
    public async Task Several_files_are_reported_by_name_and_counted_together()
    {
        var folder = Directory.CreateTempSubdirectory("companion-checker-").FullName;
        var export = await HonestJobs.Plain;
        var (good, bad) = (Path.Combine(folder, "good.ndjson"), Path.Combine(folder, "bad.ndjson"));
        await File.WriteAllTextAsync(good, export);
        await File.WriteAllTextAsync(bad, export.Replace("Sound check.", "Sound shack.", StringComparison.Ordinal));

        var report = await IndependentChecker.CheckAsync(good, bad);
        var entries = Lines(export).Count;
        Directory.Delete(folder, recursive: true);

        Assert.Equal(1, report.Exit);
        Assert.Equal($"{good}: {entries} entries, 1 jobs, 0 faults", report.Lines[0]);
        Assert.StartsWith($"{bad}: line ", Assert.Single(report.Faults), StringComparison.Ordinal);
        Assert.Equal($"{2 * entries} entries, 2 jobs, 1 faults", report.Lines[^1]);
    }

    [Theory]
    [InlineData("")]
    [InlineData("this is a letter\n")]
    public async Task A_file_that_holds_no_journal_is_refused_with_the_reason(string text)
    {
        var report = await Checked.AsFileAsync(text);

        Assert.Equal(2, report.Exit);
        Assert.Contains("there is no journal entry in it", report.Trouble, StringComparison.Ordinal);
    }

    // RFC 6979, appendix A.2.5; the figures stand in the checker.
    [Fact]
    public async Task The_checkers_signatures_agree_with_published_ones()
    {
        var report = await IndependentChecker.CheckAsync("--self-test");

        Assert.Equal(0, report.Exit);
        Assert.Equal(["self-test passed"], report.Lines);
    }

    private static List<string> Lines(string export) => [.. export.Split('\n', StringSplitOptions.RemoveEmptyEntries)];

    private static string Text(List<string> lines) => string.Concat(lines.Select(line => line + "\n"));
}
