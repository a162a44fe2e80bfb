using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Tests.Support;
using Companion.Voice.TurnTaking;

namespace Companion.Voice.Tests.TurnTaking;

public sealed class LoudspeakerEchoTests
{
    private static readonly short[] Speech = Sounds.Espeak("en-gb", "Sound check. Say affirm, four seven.");

    private readonly RecordingInbox inbox = new();
    private readonly LoudspeakerEcho echo;

    public LoudspeakerEchoTests() => echo = new LoudspeakerEcho(inbox);

    [Theory]
    [InlineData(0, 1)]
    [InlineData(100, 0.05)]
    [InlineData(700, 0.02)]
    public void A_loudspeaker_that_is_heard_late_and_faintly_is_heard(int delayMilliseconds, double level)
    {
        Check(Heard(level, delayMilliseconds, noise: 0.0005));
        Assert.Empty(inbox.Notices);
    }

    [Fact]
    public void A_loudspeaker_that_is_not_heard_is_warned_of_once_and_again_heard_the_warning_ends()
    {
        Check(Heard(0, 0, noise: 0.001));
        Check(Heard(0, 0, noise: 0.05));
        Assert.Equal((LoudspeakerEcho.Device, false), (inbox.Notices.Single().Device, inbox.Notices.Single().Present));
        Check(Heard(0.1, 50, noise: 0.001));
        Assert.Equal([false, true], inbox.Notices.Select(notice => notice.Present));
    }

    [Fact]
    public void The_warning_ends_when_the_next_thing_is_asked_and_not_with_its_own_words()
    {
        Check(Heard(0, 0, noise: 0.001));
        echo.Sounds(new Prompt(2, Urgency.Refusal, "The microphone does not hear the loudspeaker.", 0), Speech);
        Assert.Single(inbox.Notices);
        echo.Sounds(new Prompt(3, Urgency.Step, "Which sheet?", 8), Speech);
        Assert.Equal([false, true], inbox.Notices.Select(notice => notice.Present));
    }

    [Fact]
    public void Whoever_answers_has_heard_it_and_is_not_warned()
    {
        Check(Heard(0, 0, noise: 0.001), answersAfterFrames: 20);
        Assert.Empty(inbox.Notices);
    }

    [Fact]
    public void Nothing_is_said_of_a_check_that_was_not_played_to_its_end()
    {
        Begin();
        Hear(Heard(0, 0, noise: 0.001), from: 0, to: 40);
        echo.Forget();
        Hear(Heard(0, 0, noise: 0.001), from: 40, to: 200);
        Assert.Empty(inbox.Notices);
    }

    private static float[] Heard(double level, int delayMilliseconds, double noise)
    {
        var echoed = Sounds.Join(
            Sounds.Silence(delayMilliseconds / 1000.0), [.. Speech.Select(sample => (short)(sample * level))], Sounds.Silence(2));
        return Sounds.Floats(Sounds.Mix(Sounds.Noise(echoed.Length / 16_000.0, noise), echoed));
    }

    private void Check(float[] heard, int? answersAfterFrames = null)
    {
        var sounded = Speech.Length / AudioFormat.FrameSamples;
        Begin();
        Hear(heard, 0, sounded);
        echo.Sounded();
        Hear(heard, sounded, sounded + (answersAfterFrames ?? 60));
        if (answersAfterFrames is not null)
        {
            echo.Hear(heard.AsSpan(0, AudioFormat.FrameSamples), somebodySpeaks: true);
            Hear(heard, sounded, sounded + 60);
        }
    }

    private void Begin() => echo.Sounds(new Prompt(1, Urgency.Step, "Sound check.", 7) { IsSoundCheck = true }, Speech);

    private void Hear(float[] heard, int from, int to)
    {
        for (var n = from; n < to && (n + 1) * AudioFormat.FrameSamples <= heard.Length; n++)
        {
            echo.Hear(heard.AsSpan(n * AudioFormat.FrameSamples, AudioFormat.FrameSamples), somebodySpeaks: false);
        }
    }
}
