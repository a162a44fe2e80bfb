using Companion.Engine.Ports;
using Companion.Voice.Ear;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Ear;

public sealed class PatternTests
{
    private readonly PhraseCompiler compiler = new(Assets.Lexicon, Phones.Alphabetical);

    public static TheoryData<string> ProductPatterns =>
    [
        .. ProductPhrases.All.Select(phrase => phrase.Pattern),
        "a|alfa|alpha|bravo|charlie|delta|echo|foxtrot|golf|hotel|india|juliett|kilo|lima|mike|november|oscar|papa|quebec|romeo|sierra|tango|uniform|victor|whiskey|x-ray|yankee|zulu",
        "ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety",
    ];

    [Theory]
    [MemberData(nameof(ProductPatterns))]
    public void Every_phrase_of_the_product_compiles(string pattern) => Assert.True(Graph(pattern).Count > 1);

    [Fact]
    public void A_word_without_pronunciation_fails_and_is_named()
    {
        var fault = Assert.Throws<PatternException>(() => compiler.Compile([new PhrasePattern("wait", "grommet removed")]));
        Assert.Contains("\"wait\"", fault.Message);
        Assert.Contains("\"grommet\"", fault.Message);
    }

    [Theory]
    [InlineData("fitted [lock")]
    [InlineData("fitted lock]")]
    [InlineData("(a|)")]
    [InlineData("")]
    [InlineData("Ready")]
    [InlineData("{digits:0-2}")]
    [InlineData("{digits:3-2}")]
    [InlineData("{digits:1-9}")]
    [InlineData("{word}")]
    [InlineData("[ready]")]
    public void A_malformed_pattern_fails(string pattern) => Assert.Throws<PatternException>(() => Graph(pattern));

    [Fact]
    public void A_pattern_has_a_limit() => Assert.Throws<PatternException>(() => Graph(string.Join(' ', Enumerable.Repeat("ready", 100))));

    [Fact]
    public void The_lexicon_uses_only_the_39_phones_and_names_a_bad_line()
    {
        var fault = Assert.Throws<InvalidDataException>(() => Lexicon.Parse(["yes Y EH S", "no N OX"]));
        Assert.Contains("line 2", fault.Message);
    }

    private PhoneGraph Graph(string pattern) => compiler.Compile([new PhrasePattern("x", pattern)])[0].Graph;
}
