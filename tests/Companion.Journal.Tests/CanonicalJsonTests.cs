using System.Security.Cryptography;
using System.Text;
using Companion.Journal.Format;

namespace Companion.Journal.Tests;

public sealed class CanonicalJsonTests
{
    private const string Sample = """
        {
          "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
          "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
          "literals": [null, true, false]
        }
        """;

    [Fact]
    public void The_published_sample_has_its_published_form()
    {
        var form = CanonicalJson.OfText(Sample);

        // RFC 8785 section 3.2.2 and 3.2.4, published; length and SHA-256 computed outside this project.
        Assert.Equal(
            "{\"literals\":[null,true,false],\"numbers\":[333333333.3333333,1e+30,4.5,0.002,1e-27],\"string\":\"€$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}",
            Encoding.UTF8.GetString(form));
        Assert.Equal(118, form.Length);
        Assert.Equal("2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb", Convert.ToHexStringLower(SHA256.HashData(form)));
    }

    [Fact]
    public void Members_are_ordered_by_utf16_code_units_and_not_by_code_points()
    {
        var form = CanonicalJson.OfText(
            """{"\u20ac":1,"\r":2,"\ufb33":3,"1":4,"\ud83d\ude00":5,"\u0080":6,"\u00f6":7}""");

        // RFC 8785 section 3.2.3, published order: CR, 1, U+0080, o umlaut, euro, emoji, dalet with dagesh.
        Assert.Equal("{\"\\r\":2,\"1\":4,\"\u0080\":6,\"ö\":7,\"€\":1,\"😀\":5,\"\ufb33\":3}", Encoding.UTF8.GetString(form));
    }

    [Theory]

    // RFC 8785 appendix B, published; IEEE 754 bits and their ECMAScript form.
    [InlineData(0x0000000000000000UL, "0")]
    [InlineData(0x8000000000000000UL, "0")]
    [InlineData(0x0000000000000001UL, "5e-324")]
    [InlineData(0x8000000000000001UL, "-5e-324")]
    [InlineData(0x7fefffffffffffffUL, "1.7976931348623157e+308")]
    [InlineData(0x4340000000000000UL, "9007199254740992")]
    [InlineData(0xc340000000000000UL, "-9007199254740992")]
    [InlineData(0x4430000000000000UL, "295147905179352830000")]
    [InlineData(0x44b52d02c7e14af5UL, "9.999999999999997e+22")]
    [InlineData(0x44b52d02c7e14af6UL, "1e+23")]
    [InlineData(0x44b52d02c7e14af7UL, "1.0000000000000001e+23")]
    [InlineData(0x444b1ae4d6e2ef4eUL, "999999999999999700000")]
    [InlineData(0x444b1ae4d6e2ef4fUL, "999999999999999900000")]
    [InlineData(0x444b1ae4d6e2ef50UL, "1e+21")]
    [InlineData(0x3eb0c6f7a0b5ed8cUL, "9.999999999999997e-7")]
    [InlineData(0x3eb0c6f7a0b5ed8dUL, "0.000001")]
    [InlineData(0x41b3de4355555553UL, "333333333.3333332")]
    [InlineData(0x41b3de4355555554UL, "333333333.33333325")]
    [InlineData(0x41b3de4355555555UL, "333333333.3333333")]
    [InlineData(0x41b3de4355555556UL, "333333333.3333334")]
    [InlineData(0x41b3de4355555557UL, "333333333.33333343")]
    [InlineData(0xbecbf647612f3696UL, "-0.0000033333333333333333")]
    [InlineData(0x43143ff3c1cb0959UL, "1424953923781206.2")]
    public void Numbers_have_their_published_form(ulong bits, string form) =>
        Assert.Equal(form, EcmaNumber.Format(BitConverter.UInt64BitsToDouble(bits)));

    [Theory]
    [InlineData("""{"a":1,"a":2}""")]
    [InlineData("""{"a":"\ud800"}""")]
    [InlineData("""{"\udc00":1}""")]
    [InlineData("""{"a":1e999}""")]
    [InlineData("""{"a":NaN}""")]
    [InlineData("""{"a":1,}""")]
    [InlineData("""{"a":1} x""")]
    [InlineData("// c\n1")]
    public void What_is_not_i_json_is_refused(string text) => Assert.Throws<FormatException>(() => CanonicalJson.OfText(text));

    [Fact]
    public void A_lone_surrogate_in_the_text_itself_is_refused() =>
        Assert.Throws<FormatException>(() => CanonicalJson.OfText("{\"a\":\"\ud800\"}"));

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void What_is_no_number_is_refused(double value) => Assert.Throws<FormatException>(() => EcmaNumber.Format(value));
}
