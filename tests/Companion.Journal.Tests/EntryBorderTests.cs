using System.Text.Json.Nodes;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Proof;
using Companion.Journal.Tests.Support;

namespace Companion.Journal.Tests;

/// <summary>The format's limits at their exact values, and entries that carry a right hash over a wrong content.</summary>
public sealed class EntryBorderTests
{
    private const long LargestInteger = 9_007_199_254_740_991;
    private static readonly EntryPlace Place = new(Guid.Parse("5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21"), false, 1, ChainHash.None);
    private static readonly EntryDraft Draft = Drafts.Of("job-1", "wait.started", """{"wait":"w1","seconds":600}""");

    [Theory]
    [InlineData(1)]
    [InlineData(64)]
    public void Names_up_to_their_longest_are_taken(int length)
    {
        var name = new string('a', length);
        var draft = Draft with { Chain = name, Type = name, BootId = name, Uptime = 0 };
        Assert.Equal(name, EntryCodec.Parse(EntryCodec.Encode(draft, Place).Bytes).BootId);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void An_entry_says_whether_it_was_a_rehearsal(bool rehearsal)
    {
        var entry = EntryCodec.Encode(Draft, Place with { Rehearsal = rehearsal });
        Assert.Equal(rehearsal, EntryCodec.Parse(entry.Bytes).Rehearsal);
        Assert.Equal(rehearsal, JsonNode.Parse(entry.Bytes.Span)!["rehearsal"]!.GetValue<bool>());
    }

    [Theory]
    [InlineData(0)]
    [InlineData(65)]
    public void A_name_that_is_missing_or_too_long_is_refused_and_the_refusal_says_which(int length)
    {
        var name = new string('a', length);
        Assert.Contains("chain name", Refusal(Draft with { Chain = name }), StringComparison.Ordinal);
        Assert.Contains("entry type", Refusal(Draft with { Type = name }), StringComparison.Ordinal);
        Assert.Contains("boot id", Refusal(Draft with { BootId = name }), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a.b_c-9", true)]
    [InlineData("a b", false)]
    [InlineData("a/b", false)]
    public void A_chain_name_is_letters_digits_dot_underscore_and_hyphen(string name, bool taken) => Assert.Equal(taken, EntryCodec.IsChainName(name));

    [Fact]
    public void Sequences_run_from_one_to_ten_digits_and_uptime_from_zero()
    {
        Assert.Equal(EntryCodec.LargestSequence, EntryCodec.Parse(EntryCodec.Encode(Draft, Place with { Sequence = EntryCodec.LargestSequence }).Bytes).Sequence);
        Assert.Contains("Sequence", Refusal(Draft, Place with { Sequence = EntryCodec.LargestSequence + 1 }), StringComparison.Ordinal);
        Assert.Contains("Sequence", Refusal(Draft, Place with { Sequence = 0 }), StringComparison.Ordinal);
        Assert.Contains("uptime", Refusal(Draft with { Uptime = -1 }), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("00")]
    [InlineData("g000000000000000000000000000000000000000000000000000000000000000")]
    [InlineData("A000000000000000000000000000000000000000000000000000000000000000")]
    public void A_previous_hash_is_sixty_four_lower_case_hex_digits(string hash)
    {
        Assert.False(ChainHash.IsWellFormed(hash));
        Assert.Contains("previous hash", Refusal(Draft, Place with { PreviousHash = hash }), StringComparison.Ordinal);
    }

    [Fact]
    public void The_largest_entry_is_taken_and_one_byte_more_is_refused()
    {
        var empty = EntryCodec.Encode(Draft with { Data = """{"a":""}""" }, Place).Bytes.Length;
        string Data(int bytes) => $$"""{"a":"{{new string('x', bytes - empty)}}"}""";

        Assert.Equal(EntryCodec.LargestEntry, EntryCodec.Encode(Draft with { Data = Data(EntryCodec.LargestEntry) }, Place).Bytes.Length);
        Assert.Contains("limit", Refusal(Draft with { Data = Data(EntryCodec.LargestEntry + 1) }), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(LargestInteger)]
    [InlineData(-LargestInteger)]
    public void The_largest_whole_numbers_are_kept_exactly(long number) =>
        Assert.Equal($$"""{"n":{{number}}}""", EntryCodec.Parse(EntryCodec.Encode(Draft with { Data = $$"""{"n":{{number}}}""" }, Place).Bytes).Data);

    [Fact]
    public void A_personal_text_needs_a_name_of_its_own()
    {
        var text = PersonalText.Seal(new byte[16], "Ottoline Ferrand");
        Assert.Contains("both", Refusal(Draft, Place, ("wait", text)), StringComparison.Ordinal);
        Assert.Contains("a-z and 0-9", Refusal(Draft, Place, ("Second", text)), StringComparison.Ordinal);
        Assert.Contains("a-z and 0-9", Refusal(Draft, Place, (string.Empty, text)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{"list":[1,[2.5]]}""", "whole")]
    [InlineData("""{"list":[{"Big":1}]}""", "a-z and 0-9")]
    [InlineData("""{"a":{"\ud800":1}}""", "surrogate")]
    public void The_rules_hold_inside_lists_and_objects(string data, string words) =>
        Assert.Contains(words, Refusal(Draft with { Data = data }), StringComparison.Ordinal);

    // Each has the right hash over its wrong content: only the codec's own rules can refuse it.
    [Theory]
    [InlineData("id", "\"job-1\"", "slash")]
    [InlineData("id", "\"/0000000001\"", "slash")]
    [InlineData("id", "\"job 1/0000000001\"", "chain name")]
    [InlineData("id", "\"job-1/0000000000\"", "Sequence")]
    [InlineData("id", "7", "'id' is not a text")]
    [InlineData("source", "\"urn:uuid:nobody\"", "source")]
    [InlineData("source", "\"urn:tablet:5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21\"", "source")]
    [InlineData("source", "\"5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21\"", "source")]
    [InlineData("type", "\"Wait.Started\"", "entry type")]
    [InlineData("bootid", "\"\"", "boot id")]
    [InlineData("uptime", "\"-1\"", "uptime")]
    [InlineData("time", "\"2026-11-25T18:04:05+01:00\"", "RFC 3339")]
    [InlineData("rehearsal", "\"false\"", "'rehearsal' is not true or false")]
    [InlineData("data", "[]", "'data' is not an object")]
    [InlineData("data", """{"volts":12.5}""", "whole")]
    [InlineData("sequence", "\"0000000002\"", "fit its hash")]
    [InlineData("extra", "1", "fit its hash")]
    public void A_wrong_entry_with_a_right_hash_is_refused(string attribute, string value, string words)
    {
        var forged = Forged(entry => entry[attribute] = JsonNode.Parse(value));
        Assert.Contains(words, Assert.Throws<FormatException>(() => EntryCodec.Parse(forged)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("time")]
    [InlineData("prevhash")]
    [InlineData("data")]
    public void An_entry_without_one_of_its_attributes_is_refused_by_its_name(string attribute)
    {
        var forged = Forged(entry => entry.Remove(attribute));
        Assert.Contains($"no '{attribute}'", Assert.Throws<FormatException>(() => EntryCodec.Parse(forged)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_hash_of_another_entry_is_told_as_such()
    {
        var honest = JsonNode.Parse(EncodedBytes())!;
        honest["hash"] = new string('b', 64);
        var refusal = Assert.Throws<FormatException>(() => EntryCodec.Parse(CanonicalJson.OfText(honest.ToJsonString())));
        Assert.Contains("do not fit its hash", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_entry_in_another_form_is_refused_though_its_hash_fits()
    {
        byte[] spaced = [(byte)'{', (byte)' ', .. EncodedBytes()[1..]];
        Assert.Contains("canonical form", Assert.Throws<FormatException>(() => EntryCodec.Parse(spaced)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[1]")]
    [InlineData("\"job-1/0000000001\"")]
    public void What_is_no_object_is_no_entry_and_claims_no_place(string json)
    {
        var bytes = CanonicalJson.OfText(json);
        Assert.Contains("JSON object", Assert.Throws<FormatException>(() => EntryCodec.Parse(bytes)).Message, StringComparison.Ordinal);
        Assert.Null(EntryCodec.ClaimedPlace(bytes));
    }

    [Fact]
    public void A_damaged_entry_still_claims_its_place_and_one_without_an_id_claims_none()
    {
        Assert.Equal(("job-1", 1L), EntryCodec.ClaimedPlace(Forged(entry => entry["data"] = "damaged")));
        Assert.Null(EntryCodec.ClaimedPlace(Forged(entry => entry.Remove("id"))));
    }

    [Fact]
    public void Bytes_that_are_not_utf_8_are_refused_as_such() => Assert.Contains(
        "not UTF-8", Assert.Throws<FormatException>(() => EntryCodec.Parse(new byte[] { 0x22, 0xff, 0x22 })).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("[]")]
    [InlineData("""{"name":"text"}""")]
    [InlineData("""{"name":{"salt":"00"}}""")]
    [InlineData("""{"name":{"salt":null,"text":"x"}}""")]
    [InlineData("""{"name":{"salt":7,"text":"x"}}""")]
    public void Sealed_texts_of_another_form_are_refused_in_words(string json)
    {
        var entry = JsonNode.Parse(EncodedBytes())!;
        entry["sealed"] = JsonNode.Parse(json);
        var line = CanonicalJson.OfText(entry.ToJsonString());
        Assert.Contains("ealed text", Assert.Throws<FormatException>(() => ExportLine.Open(line)).Message, StringComparison.Ordinal);
    }

    // ECMA-262 Number::toString, computed by hand from its steps: the places where its layout changes, and small whole numbers.
    [Theory]
    [InlineData(1.5, "1.5")]
    [InlineData(0.5, "0.5")]
    [InlineData(123456789012345.6, "123456789012345.6")]
    [InlineData(1e20, "100000000000000000000")]
    [InlineData(1.5e-7, "1.5e-7")]
    [InlineData(0.1, "0.1")]
    [InlineData(12, "12")]
    public void Numbers_are_laid_out_as_the_language_does(double value, string form) => Assert.Equal(form, EcmaNumber.Format(value));

    private static string Refusal(EntryDraft draft, EntryPlace? place = null, params (string Name, SealedText Text)[] texts) =>
        Assert.Throws<FormatException>(() => EntryCodec.Encode(draft, place ?? Place, texts.ToDictionary(text => text.Name, text => text.Text))).Message;

    private static byte[] EncodedBytes() => EntryCodec.Encode(Draft, Place).Bytes.ToArray();

    private static byte[] Forged(Action<JsonObject> change)
    {
        var entry = JsonNode.Parse(EncodedBytes())!.AsObject();
        entry.Remove("hash");
        change(entry);
        var previous = entry["prevhash"]?.GetValue<string>() ?? ChainHash.None;
        entry["hash"] = ChainHash.Next(previous, CanonicalJson.OfText(entry.ToJsonString()));
        return CanonicalJson.OfText(entry.ToJsonString());
    }
}
