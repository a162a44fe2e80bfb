using Companion.Voice.Audio;
using Companion.Voice.Detection;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Detection;

public sealed class SpeechDetectionTests : IDisposable
{
    private readonly SileroDetector detector = SileroDetector.TryLoad(Assets.Ear, out var reason) ?? throw new InvalidOperationException(reason);

    public void Dispose() => detector.Dispose();

    [Theory]
    [InlineData("en-gb", "affirm four seven")]
    [InlineData("en-us", "proved dead")]
    [InlineData("en-gb-scotland", "stop")]
    public void Speech_is_cut_out_where_it_is(string voice, string text)
    {
        var speech = Sounds.Espeak(voice, text);
        var sound = Sounds.Mix(Sounds.Join(Sounds.Silence(1), speech, Sounds.Silence(1)), Sounds.Noise(2 + (speech.Length / 16_000.0), 0.0005));
        var utterance = Assert.Single(Utterances(sound));

        // The synthesiser itself begins and ends with some silence.
        Assert.InRange(utterance.Onset, 15_000, 16_000 + 4_800);
        Assert.InRange(utterance.End, 16_000 + (speech.Length / 3), 16_000 + speech.Length + 3_200);
        Assert.True(utterance.Samples.Length >= utterance.End - utterance.Onset);
    }

    [Fact]
    public void Silence_holds_no_speech() => Assert.Empty(Utterances(Sounds.Silence(10)));

    [Fact]
    public void Steady_noise_holds_no_speech() => Assert.Empty(Utterances(Sounds.Noise(10, 0.05)));

    [Fact]
    public void A_folder_without_the_model_gives_the_reason()
    {
        Assert.Null(SileroDetector.TryLoad(Path.GetTempPath(), out var reason));
        Assert.Contains("Voice is off", reason);
    }

    // I8
    [Fact]
    public void Speech_with_a_break_in_it_is_given_back_cut_short_and_its_rest_is_not_heard_before_a_pause()
    {
        var segmenter = new UtteranceSegmenter(new FakeDetector());
        Assert.Null(Feed(segmenter, Sounds.Noise(0.5, 0.001)));
        Assert.Null(Feed(segmenter, Sounds.Tone(0.5)));
        Assert.True(segmenter.Break()!.CutShort);
        Assert.Null(Feed(segmenter, Sounds.Join(Sounds.Tone(0.5), Sounds.Noise(0.2, 0.001), Sounds.Tone(0.5), Sounds.Noise(0.6, 0.001))));
        Assert.False(Feed(segmenter, Sounds.Join(Sounds.Tone(0.5), Sounds.Noise(0.6, 0.001)))!.CutShort);
        Assert.Null(segmenter.Break());
    }

    private static Utterance? Feed(UtteranceSegmenter segmenter, short[] sound) =>
        Sounds.Floats(sound).Chunk(AudioFormat.FrameSamples).Where(frame => frame.Length == AudioFormat.FrameSamples)
            .Select(frame => segmenter.Take(frame)).OfType<Utterance>().LastOrDefault();

    private List<Utterance> Utterances(short[] sound)
    {
        var segmenter = new UtteranceSegmenter(detector);
        return [.. Sounds.Floats(sound).Chunk(AudioFormat.FrameSamples).Where(frame => frame.Length == AudioFormat.FrameSamples)
            .Select(frame => segmenter.Take(frame)).OfType<Utterance>()];
    }
}
