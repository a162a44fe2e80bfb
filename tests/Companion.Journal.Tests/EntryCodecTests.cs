using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Tests.Support;
using CsCheck;

namespace Companion.Journal.Tests;

public sealed class EntryCodecTests
{
    private static readonly EntryPlace Place = new(Guid.Parse("5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21"), true, 1, ChainHash.None);

    [Fact]
    public void The_chain_example_has_its_computed_hashes()
    {
        // computed outside this project.
        var first = ChainHash.Next(ChainHash.None, """{"event":"start","seq":0}"""u8);
        Assert.Equal("fdfe8b88594bddd6a647cf4f65f3eb54d1388790bbec761fe2578e733a86d5bb", first);
        var second = ChainHash.Next(first, """{"event":"prove","seq":1}"""u8);
        Assert.Equal("c873c794d6635140032899749e2484ae9588939c765acadc24f519d9472dd23a", second);
        var third = ChainHash.Next(second, """{"event":"dead","seq":2}"""u8);
        Assert.Equal("98b70845e34f8fc12c571f107cbdca377edeaa677a1475aad5dfcc94c5dad61a", third);
    }

    [Fact]
    public void An_entry_is_a_cloud_event_with_every_attribute_of_the_format()
    {
        var entry = EntryCodec.Encode(Drafts.Of("job-1", "wait.started", """{"wait":"w1","seconds":600}"""), Place);
        using var document = JsonDocument.Parse(entry.Bytes);
        var attributes = document.RootElement;

        // CloudEvents 1.0 section "REQUIRED attributes", published: id, source, specversion, type.
        Assert.Equal("1.0", attributes.GetProperty("specversion").GetString());
        Assert.Equal("job-1/0000000001", attributes.GetProperty("id").GetString());
        Assert.Equal("urn:uuid:5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21", attributes.GetProperty("source").GetString());
        Assert.Equal("wait.started", attributes.GetProperty("type").GetString());
        Assert.Equal("2026-11-25T18:04:05.6780000+01:00", attributes.GetProperty("time").GetString());
        Assert.Equal("application/json", attributes.GetProperty("datacontenttype").GetString());
        Assert.Equal("urn:companion:journal:1", attributes.GetProperty("dataschema").GetString());
        Assert.Equal("0000000001", attributes.GetProperty("sequence").GetString());
        Assert.Equal(new string('0', 64), attributes.GetProperty("prevhash").GetString());
        Assert.Equal("6000000000", attributes.GetProperty("uptime").GetString());
        Assert.Equal("boot-one", attributes.GetProperty("bootid").GetString());
        Assert.True(attributes.GetProperty("rehearsal").GetBoolean());
        Assert.Equal("""{"seconds":600,"wait":"w1"}""", attributes.GetProperty("data").GetRawText());
    }

    [Fact]
    public void The_hash_is_over_the_previous_hash_and_the_form_without_the_hash()
    {
        var entry = EntryCodec.Encode(Drafts.Of("job-1", "job.opened"), Place with { PreviousHash = new string('a', 64) });
        var text = Encoding.UTF8.GetString(entry.Bytes.Span);
        var without = text.Replace($"\"hash\":\"{entry.Hash}\",", "", StringComparison.Ordinal);
        Assert.NotEqual(text, without);
        byte[] record = [.. Enumerable.Repeat((byte)0xaa, 32), .. Encoding.UTF8.GetBytes(without)];
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(record)), entry.Hash);
        Assert.Equal(without, Encoding.UTF8.GetString(CanonicalJson.OfText(without)));
    }

    [Fact]
    public void A_changed_byte_anywhere_in_an_entry_is_noticed()
    {
        var bytes = EntryCodec.Encode(Drafts.Of("job-1", "wait.started", """{"wait":"w1","seconds":600}"""), Place).Bytes.ToArray();
        for (var i = 0; i < bytes.Length; i++)
        {
            for (var bit = 0; bit < 8; bit++)
            {
                var changed = bytes.ToArray();
                changed[i] ^= (byte)(1 << bit);
                Assert.ThrowsAny<FormatException>(() => EntryCodec.Parse(changed));
            }
        }
    }

    [Fact]
    public void Any_draft_within_the_rules_is_read_back_as_it_was_written()
    {
        var names = Gen.String[Gen.Char["abcdefghijklmnopqrstuvwxyz0123456789"], 1, 8];
        var texts = Gen.String[Gen.OneOf(Gen.Char[' ', '~'], Gen.Char['\u00a0', '\ud7ff'], Gen.Char['\0', '\u001f']), 0, 20];
        var values = Gen.OneOf<object>(texts.Select(t => (object)t), Gen.Long[-9007199254740991, 9007199254740991].Select(n => (object)n), Gen.Bool.Select(b => (object)b));
        Gen.Select(Gen.Dictionary(names, values)[0, 6], Gen.Long[0, long.MaxValue], Gen.Int[-840, 840], Gen.Long[0, 3155378975999999999], Gen.Long[1, 9_999_999_999])
            .Where(t => IsTime(t.Item4, t.Item3))
            .Sample(
                (data, uptime, offset, ticks, sequence) =>
                {
                    var time = new DateTimeOffset(ticks, TimeSpan.FromMinutes(offset));
                    var draft = Drafts.Of("job-1", "speech.heard", JsonSerializer.Serialize(data)) with { Uptime = uptime, Time = time };
                    var written = EntryCodec.Encode(draft, Place with { Sequence = sequence });
                    var read = EntryCodec.Parse(written.Bytes);
                    return read.Hash == written.Hash && read.Data == written.Data && read.Time == time && read.Time.Offset == time.Offset
                        && read.Uptime == uptime && read.Sequence == sequence
                        && CanonicalJson.OfText(JsonSerializer.Serialize(data)).AsSpan().SequenceEqual(Encoding.UTF8.GetBytes(read.Data));
                },
                iter: 2000);

        static bool IsTime(long ticks, int offset) =>
            ticks - (offset * TimeSpan.TicksPerMinute) is >= 0 and <= 3155378975999999999;
    }

    [Theory]
    [InlineData("""{"volts":12.0}""", "volts")]
    [InlineData("""{"a":{"volts":1e2}}""", "a.volts")]
    [InlineData("""{"n":9007199254740992}""", "2^53-1")]
    [InlineData("""{"n":-0}""", "whole")]
    [InlineData("""{"secondPerson":"x"}""", "a-z and 0-9")]
    [InlineData("[]", "object")]
    [InlineData("""{"a":1,"a":2}""", "JSON")]
    public void Data_outside_the_rules_is_refused_with_its_name(string data, string words)
    {
        var refusal = Assert.Throws<FormatException>(() => EntryCodec.Encode(Drafts.Of("job-1", "x.y", data), Place));
        Assert.Contains(words, refusal.Message);
    }

    [Theory]
    [InlineData("job/1", "job.opened")]
    [InlineData("", "job.opened")]
    [InlineData("job-1", "Job.Opened")]
    [InlineData("job-1", "job..opened")]
    public void Names_outside_the_format_are_refused(string chain, string type) =>
        Assert.Throws<FormatException>(() => EntryCodec.Encode(Drafts.Of(chain, type), Place));

    [Fact]
    public void A_salt_in_another_case_is_not_the_same_salt() =>
        Assert.Throws<FormatException>(() => PersonalText.HashOf(new SealedText("AB" + new string('0', 30), "x")));

    [Fact]
    public void A_personal_text_enters_the_entry_only_as_the_hash_of_salt_and_text()
    {
        var salt = Enumerable.Range(0, 16).Select(i => (byte)i).ToArray();
        var text = PersonalText.Seal(salt, "Ottoline Ferrand");
        var entry = EntryCodec.Encode(Drafts.Of("job-1", "job.opened"), Place, new Dictionary<string, SealedText> { ["technician"] = text });
        byte[] expected = SHA256.HashData([.. salt, .. Encoding.UTF8.GetBytes("Ottoline Ferrand")]);
        Assert.Equal($$"""{"technician":"{{Convert.ToHexStringLower(expected)}}"}""", entry.Data);
        Assert.DoesNotContain("Ottoline", Encoding.UTF8.GetString(entry.Bytes.Span));
    }
}
