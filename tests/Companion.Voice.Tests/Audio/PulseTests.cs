using System.Diagnostics;
using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Ear;
using Companion.Voice.Tests.Support;
using Companion.Voice.TurnTaking;

namespace Companion.Voice.Tests.Audio;

[Collection(RealSound.Name)]
public sealed class PulseTests : IDisposable
{
    private readonly SoundSystem system = new();
    private readonly CancellationTokenSource end = new();

    public void Dispose()
    {
        end.Cancel();
        system.Dispose();
        end.Dispose();
    }

    [Fact]
    public async Task What_is_played_is_heard()
    {
        using var microphone = new PulseMicrophone("mic", system.Server);
        microphone.Open();
        microphone.Read(new float[AudioFormat.FrameSamples], CancellationToken.None);
        var playing = Task.Run(() =>
        {
            using var loudspeaker = new PulseLoudspeaker("micsink", system.Server);
            loudspeaker.Play(Sounds.Tone(1));
            loudspeaker.Drain();
        });
        var frame = new float[AudioFormat.FrameSamples];
        var loud = 0;
        for (var n = 0; n < 130 && microphone.Read(frame, CancellationToken.None); n++)
        {
            loud += frame.Max() > 0.25f ? 1 : 0;
        }

        await playing;
        Assert.InRange(loud, 28, 34); // computed: a second is 31 frames of 32 ms
    }

    [Fact]
    public void A_prompt_has_sounded_when_it_has_drained()
    {
        using var loudspeaker = new PulseLoudspeaker("spk", system.Server);
        loudspeaker.Play(Sounds.Silence(0.1)); // a virtual sink that slept takes up to 2 s to wake
        var watch = Stopwatch.StartNew();
        loudspeaker.Play(Sounds.Tone(0.5));
        loudspeaker.Drain();
        Assert.InRange(watch.ElapsedMilliseconds, 450, 2_000);
    }

    [Fact]
    public async Task A_microphone_that_is_unplugged_and_plugged_in_again_is_noticed_each_within_two_seconds()
    {
        var inbox = new RecordingInbox();
        var hiss = Task.Run(Hiss);
        using var ear = new EarLoop(
            new PulseMicrophone("mic", system.Server), new FakeDetector(), new Recogniser(new FakeModel(), Assets.Lexicon),
            new TurnGate(new RealClock()), new RealClock(), inbox);
        ear.Start();
        await Task.Delay(3_000);
        Assert.Empty(inbox.Notices);

        var watch = Stopwatch.StartNew();
        system.UnplugMicrophone();
        Assert.False((await inbox.Wait<DeviceNotice>(1))[0].Present);
        Assert.InRange(watch.Elapsed, TimeSpan.Zero, TimeSpan.FromSeconds(2));

        watch.Restart();
        system.PlugMicrophone();
        Assert.True((await inbox.Wait<DeviceNotice>(2))[1].Present);
        Assert.InRange(watch.Elapsed, TimeSpan.Zero, TimeSpan.FromSeconds(2));
        await end.CancelAsync();
        await hiss;
    }

    [Fact]
    public void A_sound_system_that_is_gone_is_a_lost_device_and_not_a_crash()
    {
        using var loudspeaker = new PulseLoudspeaker("spk", system.Server);
        loudspeaker.Probe();
        system.StopDaemon();
        Assert.Throws<AudioDeviceException>(() =>
        {
            for (var n = 0; n < 100; n++)
            {
                loudspeaker.Play(Sounds.Tone(0.1));
                loudspeaker.Drain();
            }
        });
        Assert.Throws<AudioDeviceException>(loudspeaker.Probe);
        using var microphone = new PulseMicrophone("mic", system.Server);
        Assert.Contains("microphone", Assert.Throws<AudioDeviceException>(microphone.Open).Message);
    }

    [Fact]
    public void A_microphone_that_does_not_exist_is_named()
    {
        using var microphone = new PulseMicrophone("headset", system.Server);
        Assert.Contains("headset", Assert.Throws<AudioDeviceException>(microphone.Open).Message);
    }

    private void Hiss()
    {
        using var loudspeaker = new PulseLoudspeaker("micsink", system.Server);
        for (var seed = 1; !end.IsCancellationRequested; seed++)
        {
            loudspeaker.Play(Sounds.Noise(0.1, 0.002, seed));
        }
    }
}
