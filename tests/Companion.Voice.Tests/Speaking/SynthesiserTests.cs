using Companion.Voice.Audio;
using Companion.Voice.Speaking;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Speaking;

public sealed class SynthesiserTests
{
    private const string Prompt = "Wait over. Traction circuit, not yet tested. Prove the tester on the known source.";

    [Fact]
    public void Flite_speaks_a_prompt_at_an_unhurried_rate()
    {
        var flite = FliteSynthesiser.TryLoad(out var reason);
        Assert.True(flite is not null, reason);
        AssertSpoken(flite.Speak(Prompt));
    }

    [Fact]
    public void Espeak_speaks_a_prompt_at_an_unhurried_rate() => AssertSpoken(new EspeakSynthesiser().Speak(Prompt));

    [Fact]
    public void When_one_synthesiser_fails_the_next_one_speaks() =>
        Assert.Equal(FakeSynthesiser.Samples, new FallbackSynthesiser(new FakeSynthesiser(), new Numbered()).Speak("!").Length);

    [Fact]
    public void A_prompt_too_long_to_be_spoken_is_refused() =>
        Assert.Throws<SynthesiserException>(() => FliteSynthesiser.TryLoad(out _)!.Speak(new string('a', FliteSynthesiser.MaximumText + 1)));

    // 14 words; unhurried speech is 120 to 200 words a minute (common practice, no source), so 4.2 to 7 s.
    private static void AssertSpoken(short[] speech)
    {
        Assert.InRange(AudioFormat.Length(speech.Length).TotalSeconds, 4.0, 8.0);
        Assert.InRange(speech.Max(value => Math.Abs((int)value)), 6_000, short.MaxValue);
    }

    private sealed class Numbered : ISynthesiser
    {
        public short[] Speak(string text) => new short[FakeSynthesiser.Samples];
    }
}
