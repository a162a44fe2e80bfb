using System.Text;
using Companion.Domain.Asking;
using Companion.Papers.Coding;
using Companion.Papers.Words;
using Companion.Review;
using Companion.TestKit;
using CsCheck;

namespace Companion.Papers.Tests.Coding;

public sealed class PaperCodeTests
{
    private readonly TestSigner _signer = new();

    [Fact]
    public void A_code_comes_back_as_what_was_stated_in_words_that_anybody_can_read()
    {
        var code = CodeOf(DemoRecords.Of(DemoRecords.Cleared()));
        Assert.StartsWith("Companion paper A\njob job-1\nstate isolated and marked, clear to work\nretest due 2026-11-25 22:52\nplace front inverter: proved dead 2026-11-25 22:17\n", code.Text, StringComparison.Ordinal);
        var read = PaperCode.Read(code.Text, _signer.Find);
        Assert.Null(read.Reason);
        Assert.Equal(code.Statement, read.Statement);
    }

    [Fact]
    public void Every_state_of_a_random_job_goes_round_and_fits_the_square() => Gen.Select(Gen.Int[0, 1_000_000], Gen.Int[0, 40]).Sample(
        (seed, chaos) =>
        {
            var code = CodeOf(DemoRecords.Walked(seed, chaos));
            return Encoding.UTF8.GetByteCount(code.Text) <= PaperCode.MostBytes && PaperCode.Read(code.Text, _signer.Find).Statement!.Equals(code.Statement);
        },
        iter: 60);

    [Fact]
    public void The_longest_names_still_fit_the_square()
    {
        var statement = new PaperStatement(
            new string('j', 64), true, PaperState.HandedOverIsolated, null,
            [.. Enumerable.Repeat(CodedPlace.Of("hinter der zweiten Sitzreihe, über der Schwelle", new DateTimeOffset(2026, 11, 25, 22, 17, 0, TimeSpan.FromHours(1))), PaperStatement.MostPlaces)],
            96, new DateTimeOffset(2026, 11, 25, 22, 17, 0, TimeSpan.FromHours(1)), 9_999_999_999, new string('f', PaperStatement.HashDigits), _signer.Tablet);
        var code = PaperCode.Of(statement, _signer);
        Assert.InRange(Encoding.UTF8.GetByteCount(code.Text), 1, PaperCode.MostBytes);
        Assert.Equal(statement, PaperCode.Read(code.Text, _signer.Find).Statement);
    }

    [Fact]
    public void Every_single_changed_left_out_or_added_character_is_refused()
    {
        var text = CodeOf(DemoRecords.Of(DemoRecords.Cleared())).Text;
        var chance = new Random(7);
        for (var at = 0; at < text.Length; at++)
        {
            var other = (char)('!' + chance.Next(90));
            Refused(text.Remove(at, 1).Insert(at, (other == text[at] ? '?' : other).ToString()));
            Refused(text.Remove(at, 1));
            Refused(at == 0 ? $"x{text}" : text.Insert(at, "0"));
        }
    }

    [Fact]
    public void A_signature_has_one_spelling()
    {
        // RFC 4648, 3.5: the last character of base64 may carry bits that nobody reads.
        const string alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
        var text = CodeOf(DemoRecords.Of(DemoRecords.Cleared())).Text;
        var last = text.Length - 3;
        Assert.EndsWith("==", text, StringComparison.Ordinal);
        Refused(text.Remove(last, 1).Insert(last, alphabet[alphabet.IndexOf(text[last], StringComparison.Ordinal) ^ 1].ToString()));
    }

    [Theory]
    [InlineData("https://example.org/", "This is no code of a Companion paper.")]
    [InlineData("", "This is no code of a Companion paper.")]
    [InlineData("Companion paper B\njob j", "This code is of version B; only A is known here.")]
    [InlineData("Companion paper A\njob j", "The code is damaged")]
    public void What_is_no_code_is_refused_in_plain_words(string scanned, string reason) =>
        Assert.StartsWith(reason, PaperCode.Read(scanned, _signer.Find).Reason, StringComparison.Ordinal);

    [Fact]
    public void A_key_that_is_not_known_and_a_signature_of_another_are_told_apart()
    {
        var code = CodeOf(DemoRecords.Of(DemoRecords.Cleared()));
        Assert.StartsWith("The code is signed with a key that is not known here", PaperCode.Read(code.Text, _ => null).Reason, StringComparison.Ordinal);
        Assert.StartsWith("The signature does not fit", PaperCode.Read(code.Text, _ => new TestSigner().PublicKey).Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_damaged_record_states_nothing_as_proved()
    {
        var whole = DemoRecords.Of(DemoRecords.Cleared());
        var statement = PaperStatement.Of(RecordedJob.Of("job-1", whole.Entries.RemoveAt(50).Select(entry => entry.Entry)), _signer.Tablet)!;
        Assert.Equal(PaperState.NotTold, statement.State);
        Assert.All(statement.Places, place => Assert.Null(place.ProvedDead));
    }

    [Fact]
    public void Check_digits_are_the_same_for_whoever_holds_the_record_and_others_for_every_other_end_of_it()
    {
        var record = DemoRecords.Of(DemoRecords.HandedOver());
        Assert.Equal(CodeOf(record).Digits, CheckDigits.Of(PaperStatement.Of(RecordedJob.Of("job-1", record.Entries.Select(entry => entry.Entry)), _signer.Tablet)!));
        var all = Enumerable.Range(1, record.Entries.Length).Select(count =>
            CheckDigits.Of(PaperStatement.Of(RecordedJob.Of("job-1", record.Entries.Take(count).Select(entry => entry.Entry)), _signer.Tablet)!)).ToList();
        Assert.Equal(all.Count, all.Distinct().Count());
    }

    [Fact]
    public void Typed_digits_are_taken_with_or_without_spaces_and_every_single_slip_is_noticed()
    {
        var digits = CodeOf(DemoRecords.Of(DemoRecords.HandedOver())).Digits;
        Assert.Equal(digits, CheckDigits.Read(digits.Replace(" ", string.Empty, StringComparison.Ordinal)));
        Assert.Equal(digits, CheckDigits.Read($" {digits.Replace(' ', '-')} "));
        Assert.Null(CheckDigits.Read(digits[..^1]));
        for (var at = 0; at < digits.Length; at++)
        {
            if (digits[at] != ' ')
            {
                Assert.Null(CheckDigits.Read(digits.Remove(at, 1).Insert(at, ((digits[at] - '0' + 1) % 10).ToString(System.Globalization.CultureInfo.InvariantCulture))));
            }
        }
    }

    [Fact]
    public void The_last_digit_is_the_one_of_the_published_example() =>
        // The usual worked example of the Luhn digit: 7992739871 has 3 (from memory); here with leading zeros, which change nothing.
        Assert.Equal("00007 99273 98713", CheckDigits.Read("000079927398713"));

    [Fact]
    public void A_rehearsal_says_so_in_its_code()
    {
        var record = DemoRecords.Of(new JobBench().Open(rehearsal: true).Until(NeedKind.Working), Companion.Contracts.StoreKind.Rehearsal);
        Assert.StartsWith("Companion paper A\nrehearsal: no vehicle was isolated\n", CodeOf(record).Text, StringComparison.Ordinal);
    }

    private PaperCode CodeOf(RecordedJob record) => PaperCode.Of(PaperStatement.Of(record, _signer.Tablet)!, _signer);

    private void Refused(string text)
    {
        var read = PaperCode.Read(text, _signer.Find);
        Assert.Null(read.Statement);
        Assert.NotEmpty(read.Reason!);
    }
}
