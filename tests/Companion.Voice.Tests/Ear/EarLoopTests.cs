using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Ear;
using Companion.Voice.Tests.Support;
using Companion.Voice.TurnTaking;

namespace Companion.Voice.Tests.Ear;

public sealed class EarLoopTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private readonly ManualClock clock = new();
    private readonly RecordingInbox inbox = new();
    private readonly FakeModel model = new();

    [Fact]
    public void An_utterance_becomes_a_hearing_with_its_onset_to_the_frame()
    {
        using var ear = Ear(Of(Sounds.Noise(1, 0.001), Sounds.Tone(0.5), Sounds.Noise(1, 0.001)));
        var began = clock.Now();
        ear.Listen(new ListeningFor(7, ProductPhrases.All));
        ear.Start();
        Assert.True(ear.WaitForEnd(Patience));
        var hearing = Assert.Single(inbox.Hearings);
        Assert.Equal((7L, HearingOutcome.Accepted, "ready", "ready"), (hearing.Question, hearing.Outcome, hearing.PhraseId, hearing.Words));

        // Speech begins one second in and lasts half a second; frames are 32 ms.
        Assert.InRange((hearing.Onset.Boot - began.Boot).Nanoseconds, 960_000_000, 1_010_000_000);
        Assert.InRange((hearing.End.Boot - hearing.Onset.Boot).Nanoseconds, 490_000_000, 580_000_000);
        Assert.InRange(hearing.SignalToNoise, 40, 60);
    }

    [Fact]
    public void A_late_answer_keeps_the_question_that_was_open_when_it_began()
    {
        EarLoop? ear = null;
        var changeAt = clock.Now().Boot.Nanoseconds + 1_300_000_000;
        var microphone = new HookedMicrophone(Of(Sounds.Noise(1, 0.001), Sounds.Tone(0.5), Sounds.Noise(1, 0.001)), () =>
        {
            if (clock.Now().Boot.Nanoseconds > changeAt)
            {
                ear!.Listen(new ListeningFor(8, ProductPhrases.Only("no")));
                changeAt = long.MaxValue;
            }
        });
        using (ear = Ear(microphone))
        {
            ear.Listen(new ListeningFor(7, ProductPhrases.Only("ready")));
            ear.Start();
            Assert.True(ear.WaitForEnd(Patience));
        }

        Assert.Equal(long.MaxValue, changeAt);
        Assert.Equal((7L, "ready"), (inbox.Hearings.Single().Question, inbox.Hearings.Single().PhraseId));
    }

    [Fact]
    public void Speech_that_overlaps_a_prompt_is_not_heard()
    {
        var turn = new TurnGate(clock);
        var at = clock.Now().Boot.Nanoseconds;
        var microphone = new HookedMicrophone(
            Of(Sounds.Noise(1, 0.001), Sounds.Tone(0.5), Sounds.Noise(1, 0.001), Sounds.Tone(0.5), Sounds.Noise(1, 0.001)), () =>
            {
                switch ((clock.Now().Boot.Nanoseconds - at) / 100_000_000)
                {
                    case 13: turn.Shut(); break;
                    case 20: turn.Release(); break;
                }
            });
        using var ear = Ear(microphone, turn);
        ear.Listen(new ListeningFor(7, ProductPhrases.All));
        ear.Start();
        Assert.True(ear.WaitForEnd(Patience));

        // Only the second one, which began 2.5 s in.
        Assert.InRange(inbox.Hearings.Single().Onset.Boot.Nanoseconds - at, 2_460_000_000, 2_510_000_000);
    }

    [Fact]
    public void Speech_longer_than_any_phrase_is_not_for_us()
    {
        using var ear = Ear(Of(Sounds.Noise(0.5, 0.001), Sounds.Tone(9), Sounds.Noise(1, 0.001)));
        ear.Listen(new ListeningFor(7, ProductPhrases.All));
        ear.Start();
        Assert.True(ear.WaitForEnd(Patience));
        Assert.Equal(HearingOutcome.NotForUs, inbox.Hearings[0].Outcome);
    }

    [Fact]
    public void A_phrase_that_cannot_be_compiled_is_reported_and_the_others_are_heard()
    {
        using var ear = Ear(Of(Sounds.Noise(1, 0.001), Sounds.Tone(0.5), Sounds.Noise(1, 0.001)));
        ear.Listen(new ListeningFor(7, [new PhrasePattern("bad", "grommet"), .. ProductPhrases.All]));
        ear.Start();
        Assert.True(ear.WaitForEnd(Patience));
        Assert.Contains("grommet", Assert.Single(inbox.Notices).Detail);
        Assert.Equal("ready", Assert.Single(inbox.Hearings).PhraseId);
    }

    [Fact]
    public async Task A_microphone_that_is_lost_and_comes_back_is_noticed_both_times()
    {
        var present = false;
        var microphone = new HookedMicrophone(new MemoryMicrophone(new RealPace(TimeProvider.System)), () =>
        {
            clock.Advance(AudioFormat.Length(AudioFormat.FrameSamples));
            if (!Volatile.Read(ref present))
            {
                throw new AudioDeviceException("The microphone is not available. Plug it in.");
            }
        });
        using var ear = Ear(microphone);
        ear.Start();
        await inbox.Wait<DeviceNotice>(1);
        Volatile.Write(ref present, true);
        await inbox.Wait<DeviceNotice>(2);
        Assert.Equal([("microphone", false), ("microphone", true)], inbox.Notices.Select(notice => (notice.Device, notice.Present)));
    }

    [Fact]
    public async Task A_microphone_that_hangs_is_noticed()
    {
        using var release = new ManualResetEventSlim();
        using var hangs = new ManualResetEventSlim();
        var frames = 0;
        var microphone = new HookedMicrophone(Of(Sounds.Noise(1, 0.001)), () =>
        {
            if (++frames == 3)
            {
                hangs.Set();
                release.Wait(Patience);
            }
        });
        using var ear = Ear(microphone);
        ear.Start();
        Assert.True(hangs.Wait(Patience));
        clock.Advance(TimeSpan.FromSeconds(2));
        Assert.Contains("stopped giving sound", (await inbox.Wait<DeviceNotice>(1))[0].Detail);
        release.Set();
    }

    [Fact]
    public void Without_a_model_the_voice_is_off_and_says_so()
    {
        using var voice = VoiceKit.Start(
            new VoiceOptions(Path.GetTempPath(), Of(Sounds.Silence(0.1)), new SilentLoudspeaker(clock), clock) { Synthesiser = new FakeSynthesiser() },
            clock, inbox);
        voice.Ear.Listen(new ListeningFor(1, ProductPhrases.All));
        Assert.Equal(("ear", false), (inbox.Notices.Single().Device, inbox.Notices.Single().Present));
        Assert.Contains("button", inbox.Notices.Single().Detail);
    }

    private MemoryMicrophone Of(params short[][] pieces)
    {
        var microphone = new MemoryMicrophone(clock, endless: false);
        Array.ForEach(pieces, microphone.Say);
        return microphone;
    }

    private EarLoop Ear(IMicrophone microphone, TurnGate? turn = null) =>
        new(microphone, new FakeDetector(), new Recogniser(model, Assets.Lexicon), turn ?? new TurnGate(clock), clock, inbox);
}
