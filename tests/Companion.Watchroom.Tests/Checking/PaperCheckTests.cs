using System.Net;
using Companion.Papers.Coding;
using Companion.Papers.Reading;
using Companion.Papers.Words;
using Companion.TestKit;
using Companion.Watchroom.Checking;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Web;

namespace Companion.Watchroom.Tests.Checking;

/// <summary>Anybody who holds a paper asks the watch room about it, as a browser does and without signing in.</summary>
public sealed class PaperCheckTests : IAsyncLifetime
{
    private WatchroomRig rig = null!;
    private PaperBench bench = null!;

    public async Task InitializeAsync()
    {
        rig = await WatchroomRig.StartAsync();
        bench = await PaperBench.StartAsync(rig);
    }

    public async Task DisposeAsync()
    {
        bench.Dispose();
        await rig.DisposeAsync();
    }

    [Fact]
    public async Task A_paper_is_confirmed_without_signing_in_and_no_more_is_told_than_it_says()
    {
        await bench.SendAsync(bench.Last);
        var code = bench.CodeAt(bench.Last);

        // A browser sends the lines of a text field with a carriage return.
        var page = await TextAsync(await bench.PostAsync("/check/text", ("text", code.Text.ReplaceLineEndings("\r\n"))), HttpStatusCode.OK);
        Assert.Contains("The record that is held here says the same.", page, StringComparison.Ordinal);
        Assert.All(code.Statement.Text.Split('\n').Skip(1), line => Assert.Contains(line, page, StringComparison.Ordinal));
        Assert.DoesNotContain("Ines", page, StringComparison.Ordinal);
        Assert.DoesNotContain("van 12", page, StringComparison.Ordinal);
        await WatchroomRig.UntilAsync(() => rig.Audit().Any(line => line.StartsWith("paper.checked", StringComparison.Ordinal) && line.Contains("\"verdict\":\"fits\"", StringComparison.Ordinal)), "the check is written down");
    }

    [Fact]
    public async Task A_paper_says_so_when_the_job_went_on_after_it()
    {
        await bench.SendAsync(bench.Last);
        Assert.Contains("The job went on after this paper was made.", await AskAsync(bench.CodeAt(bench.Last - 5).Text), StringComparison.Ordinal);
    }

    // I15: clear to work lapses at the sheet's re-test time, whatever a paper says.
    [Fact]
    public async Task A_clear_to_work_whose_retest_was_due_is_not_confirmed_as_one()
    {
        await bench.SendAsync(bench.Last);
        var code = bench.CodeAt(bench.Last);
        var due = code.Statement.RetestDue!.Value;
        var time = new SettableTime { Seconds = (due - SettableTime.Zero).TotalSeconds - 1 };
        var check = new PaperCheck(rig.Store, rig.Services.Devices, rig.Services.Receiver, rig.Services.Audit, time);
        Assert.DoesNotContain(check.OfText(code.Text).Lines, line => line.Contains("Treat as live", StringComparison.Ordinal));
        time.Seconds++;
        Assert.Contains(check.OfText(code.Text).Lines, line => line.Contains("nobody is clear to work. Treat as live", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_has_not_arrived_is_not_confirmed_by_its_signature_alone()
    {
        await bench.SendAsync(bench.Last - 5);
        Assert.Contains("This part of the record has not arrived here.", await AskAsync(bench.CodeAt(bench.Last).Text), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_tablet_that_signs_another_state_than_its_record_tells_is_contradicted()
    {
        await bench.SendAsync(bench.Last);
        var lie = PaperCode.Of(bench.At(bench.Last) with { State = PaperState.HandedOverPutBack, RetestDue = null }, bench);
        Assert.Contains("Believe nothing on this paper", await AskAsync(lie.Text), StringComparison.Ordinal);
        var other = PaperCode.Of(bench.At(bench.Last) with { HashStart = new string('0', PaperStatement.HashDigits) }, bench);
        Assert.Contains("That entry of the job is another one here.", await AskAsync(other.Text), StringComparison.Ordinal);
    }

    // Damage on the watch room's own disk is no word against a paper. Where the checksum was damaged, a whole batch is lost: that of entries 11 to 20.
    [Theory]
    [InlineData(true, 15)]
    [InlineData(false, 11)]
    public async Task A_record_that_is_damaged_here_decides_nothing_from_its_first_misfit_on(bool checksumFits, int first)
    {
        await bench.SendAsync(10);
        await bench.SendAsync(20);
        await bench.SendAsync(bench.Last);
        bench.Damage(15, checksumFits);

        var page = await AskAsync(bench.CodeAt(bench.Last).Text);
        Assert.Contains("The record that is held here is damaged and does not decide.", page, StringComparison.Ordinal);
        Assert.Contains($"the first entry that does not fit is {first}", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Believe nothing", page, StringComparison.Ordinal);
        Assert.Contains("does not decide", await AskAsync(bench.CodeAt(first).Text), StringComparison.Ordinal);
        Assert.Contains("The job went on after this paper was made.", await AskAsync(bench.CodeAt(first - 1).Text), StringComparison.Ordinal);
        var digits = await DigitsAsync(PaperBench.Job, bench.Last, bench.CodeAt(bench.Last).Digits);
        Assert.Contains("or is damaged here", await TextAsync(digits, HttpStatusCode.UnprocessableEntity), StringComparison.Ordinal);

        var record = new ReceivedRecords(rig.Services.Devices, rig.Services.Receiver, checksEnds: true).Open(new(bench.Paired.Device, PaperBench.Job))!;
        Assert.Contains(record.Troubles, trouble => trouble.Words.Contains($"damaged here and does not decide: the first entry that does not fit is {first}", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_paper_of_a_revoked_tablet_is_not_confirmed()
    {
        await bench.SendAsync(bench.Last);
        Assert.True(rig.Services.Devices.Revoke(bench.Paired.Device));
        Assert.Contains("The tablet of this paper is no longer trusted.", await AskAsync(bench.CodeAt(bench.Last).Text), StringComparison.Ordinal);
    }

    // Threat: a forged code.
    [Fact]
    public async Task A_forged_code_is_refused_and_nothing_of_it_is_repeated()
    {
        await bench.SendAsync(bench.Last);
        var forged = bench.CodeAt(bench.Last).Text.Replace("as of 2", "as of 3", StringComparison.Ordinal);
        var page = await TextAsync(await bench.PostAsync("/check/text", ("text", forged)), HttpStatusCode.UnprocessableEntity);
        Assert.Contains("The signature does not fit", page, StringComparison.Ordinal);
        Assert.DoesNotContain(PaperBench.Job, page, StringComparison.Ordinal);

        using var stranger = await PaperBench.StartAsync(rig);
        var text = PaperCode.Of(bench.At(bench.Last), stranger).Text;
        Assert.Contains("signed with a key that is not known here", await TextAsync(await bench.PostAsync("/check/text", ("text", text)), HttpStatusCode.UnprocessableEntity), StringComparison.Ordinal);
    }

    // Threat: script in the text.
    [Fact]
    public async Task Script_in_a_text_stays_words()
    {
        var page = await (await bench.PostAsync("/check/text", ("text", "Companion paper <script>alert(1)</script>"))).Content.ReadAsStringAsync();
        Assert.DoesNotContain("<script>", page, StringComparison.Ordinal);
        Assert.Contains("This code is of version", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Typed_digits_find_the_paper_and_a_slip_is_told_from_digits_that_fit_nothing()
    {
        await bench.SendAsync(bench.Last);
        var digits = bench.CodeAt(bench.Last).Digits;
        Assert.Contains("The record that is held here says the same.", await TextAsync(await DigitsAsync(PaperBench.Job, bench.Last, digits), HttpStatusCode.OK), StringComparison.Ordinal);
        Assert.Contains("do not fit together", await TextAsync(await DigitsAsync(PaperBench.Job, bench.Last, Slip(digits)), HttpStatusCode.UnprocessableEntity), StringComparison.Ordinal);

        // Digits of another entry are whole and wrong; whether the job exists is not told.
        var wrong = await TextAsync(await DigitsAsync(PaperBench.Job, bench.Last, bench.CodeAt(bench.Last - 1).Digits), HttpStatusCode.UnprocessableEntity);
        Assert.Equal(wrong, await TextAsync(await DigitsAsync("job-2", bench.Last, digits), HttpStatusCode.UnprocessableEntity));
        Assert.DoesNotContain(PaperBench.Job, wrong, StringComparison.Ordinal);
    }

    // Threat: guessing digits.
    [Fact]
    public async Task Whoever_guesses_digits_is_held_up()
    {
        await bench.SendAsync(bench.Last);
        var wrong = bench.CodeAt(bench.Last - 1).Digits;
        for (var guess = 0; guess < Limits.ChecksAMinute; guess++)
        {
            Assert.Equal(HttpStatusCode.UnprocessableEntity, (await DigitsAsync("job-2", bench.Last, wrong)).StatusCode);
        }

        Assert.Equal(HttpStatusCode.TooManyRequests, (await DigitsAsync(PaperBench.Job, bench.Last, bench.CodeAt(bench.Last).Digits)).StatusCode);
        await WatchroomRig.UntilAsync(() => rig.Audit().Count(line => line.StartsWith("request.refused", StringComparison.Ordinal) && line.Contains("\"paper\"", StringComparison.Ordinal)) is > 0 and <= 6, "guesses are written down, and not all of them");
    }

    [Fact]
    public async Task A_photograph_of_the_code_is_read_on_the_server()
    {
        await bench.SendAsync(bench.Last);
        var code = bench.CodeAt(bench.Last).Text;
        var answer = await bench.PostPhotoAsync(PaperBench.Photo(code));
        if (answer.StatusCode == HttpStatusCode.UnprocessableEntity)
        {
            // The signature is another in every run, and so is the code: where none is seen, the telephone is held nearer.
            Assert.Contains("No code was found", await TextAsync(answer, HttpStatusCode.UnprocessableEntity), StringComparison.Ordinal);
            answer = await bench.PostPhotoAsync(PaperBench.Photo(code, 1800, 1350));
        }

        var page = await TextAsync(answer, HttpStatusCode.OK);
        Assert.Contains("The record that is held here says the same.", page, StringComparison.Ordinal);
    }

    // Threats: a photograph that is too large, a small file that claims to be a huge picture, something that is no picture.
    [Fact]
    public async Task Photographs_that_cannot_be_opened_here_are_refused_with_what_to_do()
    {
        Assert.Contains("larger than 8 MB", await TextAsync(await bench.PostPhotoAsync(new byte[PaperPhoto.MostBytes + 100_000]), HttpStatusCode.RequestEntityTooLarge), StringComparison.Ordinal);
        Assert.Contains("more points", await TextAsync(await bench.PostPhotoAsync(HugePicture.Png()), HttpStatusCode.RequestEntityTooLarge), StringComparison.Ordinal);
        Assert.Contains("no picture", await TextAsync(await bench.PostPhotoAsync("not a picture"u8.ToArray()), HttpStatusCode.UnsupportedMediaType), StringComparison.Ordinal);
        Assert.Contains("No code was found", await TextAsync(await bench.PostPhotoAsync(PaperBench.Photo("x", 40, 30)), HttpStatusCode.UnprocessableEntity), StringComparison.Ordinal);
        Assert.Contains("Nothing came", await TextAsync(await bench.PostAsync("/check/photo"), HttpStatusCode.BadRequest), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_page_opens_without_signing_in_under_the_same_headers_as_every_page()
    {
        using var visitor = new Visitor(rig);
        using var answer = await visitor.GetAsync("/check");
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("script-src 'self'", string.Concat(answer.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
        Assert.DoesNotContain("Set-Cookie", answer.Headers.Select(header => header.Key));
    }

    /// <summary>Two neighbours that differ, exchanged: the commonest slip.</summary>
    private static string Slip(string digits)
    {
        var at = Enumerable.Range(0, digits.Length - 1).First(n => char.IsDigit(digits[n]) && char.IsDigit(digits[n + 1]) && digits[n] != digits[n + 1] && (digits[n], digits[n + 1]) is not ('0', '9') and not ('9', '0'));
        return $"{digits[..at]}{digits[at + 1]}{digits[at]}{digits[(at + 2)..]}";
    }

    private Task<HttpResponseMessage> DigitsAsync(string job, int entry, string digits) =>
        bench.PostAsync("/check/digits", ("job", job), ("entry", $"{entry}"), ("digits", digits));

    private async Task<string> AskAsync(string text) => await TextAsync(await bench.PostAsync("/check/text", ("text", text)), HttpStatusCode.OK);

    private static async Task<string> TextAsync(HttpResponseMessage answer, HttpStatusCode expected)
    {
        var text = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());
        Assert.True(answer.StatusCode == expected, $"{answer.StatusCode}: {text}");
        return text;
    }
}
