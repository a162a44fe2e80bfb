using Companion.Engine.Ports;
using Companion.Voice.Ear;
using Companion.Voice.Tests.Support;
using CsCheck;

namespace Companion.Voice.Tests.Ear;

public sealed class DecoderTests
{
    private const int Clear = 30;

    private readonly IReadOnlyList<CompiledPhrase> phrases = new PhraseCompiler(Assets.Lexicon, Phones.Alphabetical).Compile(ProductPhrases.All);
    private readonly PhraseMatcher matcher = new(EarThresholds.Strict, EarThresholds.Loose);

    [Theory]
    [InlineData("affirm four seven", "code")]
    [InlineData("affirm nine nine", "code")]
    [InlineData("affirm oh oh", "code")]
    [InlineData("affirm", "affirm")]
    [InlineData("four zero zero", "volts")]
    [InlineData("minus six one volts d c", "volts")]
    [InlineData("zero decimal five volts", "volts")]
    [InlineData("two thousand five hundred volts", "volts")]
    [InlineData("below five volts", "below")]
    [InlineData("one two decimal three", "volts")]
    [InlineData("proved", "proved")]
    [InlineData("proved dead", "dead")]
    [InlineData("fitted lock one two three four", "fitted")]
    [InlineData("i am all right", "alright")]
    [InlineData("stop", "stop")]
    public void What_is_said_is_heard(string words, string id)
    {
        var heard = matcher.Match(phrases, Peaky.Words(words), Clear);
        Assert.Equal((HearingOutcome.Accepted, id, words), (heard.Outcome, heard.PhraseId, heard.Words));
        Assert.InRange(heard.Confidence, 900, 1000);
    }

    [Fact]
    public void Any_code_is_heard_as_it_was_said() => Gen.Int[0, 99].Sample(code =>
    {
        var words = "affirm " + Domain.Speaking.SpokenNumber.Say(code.ToString("00"));
        return matcher.Match(phrases, Peaky.Words(words), Clear).Words == words;
    }, iter: 30);

    [Fact]
    public void A_pause_between_words_does_no_harm() =>
        Assert.Equal("affirm four seven", matcher.Match(phrases, Peaky.Of("AH F ER M _ F AO R _ S EH V AH N _"), Clear).Words);

    [Fact]
    public void A_british_speaker_is_heard() => Assert.Equal("clear", matcher.Match(phrases, Peaky.Of("K L IH AH T AH W ER K"), Clear).PhraseId);

    [Theory]
    [InlineData("K AH N F ER M F AO R S EH V AH N")] // confirm four seven
    [InlineData("IH N S AH L EY T IH D")] // insulated
    [InlineData("P R UW V IH NG")] // proving
    [InlineData("AH F ER M F AO R S EH V AH N AE N D DH EH N S AH M")] // affirm four seven and then some
    [InlineData("DH AH W EH DH ER IH Z AO F AH L T AH D EY")] // the weather is awful today
    [InlineData("R EH D")] // red
    public void Near_misses_and_running_speech_are_not_accepted(string spoken) =>
        Assert.NotEqual(HearingOutcome.Accepted, matcher.Match(phrases, Peaky.Of(spoken), Clear).Outcome);

    [Fact]
    public void Silence_is_not_accepted() => Assert.NotEqual(HearingOutcome.Accepted, matcher.Match(phrases, Peaky.Silence(100), Clear).Outcome);

    [Fact]
    public void Noise_is_not_accepted() => Gen.Int.Sample(
        seed => matcher.Match(phrases, Peaky.Noise(80, seed), Clear).Outcome is HearingOutcome.NotForUs or HearingOutcome.Unsure, iter: 30);

    [Fact]
    public void Half_a_code_is_not_accepted_as_a_code() =>
        Assert.NotEqual("code", matcher.Match(phrases, Peaky.Words("affirm four"), Clear).Outcome == HearingOutcome.Accepted ? "code" : null);

    [Fact]
    public void In_noise_only_loose_phrases_are_accepted()
    {
        Assert.Equal(HearingOutcome.TooNoisy, matcher.Match(phrases, Peaky.Words("proved dead"), 0).Outcome);
        Assert.Equal(HearingOutcome.Accepted, matcher.Match(phrases, Peaky.Words("stop"), 0).Outcome);
    }

    [Fact]
    public void Two_phrases_as_likely_as_each_other_leave_the_ear_unsure()
    {
        var twins = new PhraseCompiler(Assets.Lexicon, Phones.Alphabetical).Compile([new PhrasePattern("one", "ready"), new PhrasePattern("two", "ready")]);
        Assert.Equal(HearingOutcome.Unsure, matcher.Match(twins, Peaky.Words("ready"), Clear).Outcome);
    }

    [Fact]
    public void Nothing_to_listen_for_hears_nothing() => Assert.Equal(HearingOutcome.NotForUs, matcher.Match([], Peaky.Words("ready"), Clear).Outcome);

    [Fact]
    public void Sound_too_short_for_any_phrase_is_none() => Assert.Equal(HearingOutcome.NotForUs, matcher.Match(phrases, Peaky.Silence(1), Clear).Outcome);

    [Fact]
    public void Three_seconds_are_decoded_in_well_under_a_tenth_of_a_second()
    {
        var posteriors = Peaky.Noise(150, 1);
        matcher.Match(phrases, posteriors, Clear);
        var fastest = Enumerable.Range(0, 5).Min(_ =>
        {
            var before = ThreadTime.Used();
            matcher.Match(phrases, posteriors, Clear);
            return (ThreadTime.Used() - before).TotalMilliseconds;
        });
        Assert.InRange(fastest, 0, 100);
    }
}
