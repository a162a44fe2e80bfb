using Companion.Domain.Time;
using Companion.Voice.Audio;
using Companion.Voice.Ear;
using Companion.Voice.Keeping;
using Companion.Voice.Tests.Support;
using Companion.Voice.TurnTaking;

namespace Companion.Voice.Tests.Keeping;

public sealed class TapTests
{
    private readonly ManualClock clock = new();

    // While a prompt sounds the ear is shut; what is said meanwhile is sound of the job all the same.
    [Fact]
    public void All_sound_is_handed_on_with_its_time_also_while_the_ear_is_shut()
    {
        var turn = new TurnGate(clock);
        turn.Shut();
        var tap = new ListTap();
        var microphone = new MemoryMicrophone(clock, endless: false);
        microphone.Say(Sounds.Noise(1, 0.1));
        var began = clock.Now().Boot;
        using var ear = new EarLoop(
            microphone, new FakeDetector(), new Recogniser(new FakeModel(), Assets.Lexicon), turn, clock, new RecordingInbox(), tap: tap);
        ear.Start();
        Assert.True(ear.WaitForEnd(TimeSpan.FromSeconds(20)));
        Assert.True(tap.Frames.Count >= AudioFormat.SampleRate / AudioFormat.FrameSamples);
        Assert.Equal(began + Ticks.OfMilliseconds(32), tap.Frames[0].Boot);
        Assert.Equal(1, tap.Breaks);
    }

    private sealed class ListTap : ISoundTap
    {
        public List<Moment> Frames { get; } = [];

        public int Breaks { get; private set; }

        public void Take(ReadOnlySpan<float> frame, Moment came) => Frames.Add(came);

        public void Break() => Breaks++;
    }
}
