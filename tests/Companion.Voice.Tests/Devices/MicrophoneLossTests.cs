using Companion.Voice.Audio;
using Companion.Voice.Tests.Audio;
using Companion.Voice.Tests.Support;
using Xunit.Abstractions;

namespace Companion.Voice.Tests.Devices;

/// <summary>The microphone goes and comes back, on a real sound system.</summary>
[Collection(RealSound.Name)]
public sealed class MicrophoneLossTests(ITestOutputHelper output) : IDisposable
{
    private const string Device = "microphone";
    private const string Headset = "module-remap-source master=micsink.monitor source_name=headset channels=1 rate=16000";

    private readonly SoundSystem system = new();
    private VoiceBench? bench;

    private VoiceBench Bench => bench ??= new VoiceBench(system);

    public void Dispose()
    {
        Bench.Figures.ForEach(output.WriteLine);
        Bench.Dispose();
        system.Dispose();
    }

    // Went wrong: with no microphone left the server gave the loudspeaker's own monitor, and that counted as the microphone's return.
    [Fact]
    public async Task An_unplugged_microphone_is_lost_until_it_is_plugged_in_again_and_no_monitor_stands_in_for_it()
    {
        await Bench.Awake();
        Bench.Act(system.UnplugMicrophone);
        Assert.Contains("Plug yours in again", (await Bench.Lost(Device)).Detail);
        await Bench.Receipt(Bench.Say("The microphone is gone. Plug it in again, or use the button.", isSoundCheck: false));
        Assert.Single(Bench.Inbox.Notices);

        Bench.Act(system.PlugMicrophone);
        await Bench.Back(Device);
        await Bench.HearsAPhrase();
    }

    // Went wrong: the ear stayed with the first microphone when the sound system had changed to another.
    [Fact]
    public async Task A_headset_is_used_when_it_becomes_the_default_and_leaves_the_other_microphone_when_it_goes()
    {
        await Bench.Awake();
        var headset = system.Load(Headset);
        Bench.Act(() => system.Control("set-default-source", "headset"));
        Assert.Contains("another one", (await Bench.Lost(Device)).Detail);
        await Bench.Back(Device);
        await Bench.HearsAPhrase();
        Bench.Act(() => system.Unload(headset));
        await Bench.Lost(Device, 2);
        await Bench.Back(Device, 3);
        await Bench.HearsAPhrase();
    }

    // I8
    [Fact]
    public async Task A_radio_link_that_drops_out_again_and_again_is_told_twice_and_confirms_nothing_that_it_cut()
    {
        await Bench.Awake();
        var heard = Bench.Accepted.Count;
        for (var n = 0; n < 4; n++)
        {
            Bench.Room.Begin(VoiceBench.Phrase);
            await Task.Delay(500);
            Bench.Act(system.UnplugMicrophone);
            await Task.Delay(300);
            system.PlugMicrophone();
            await Task.Delay(700);
        }

        Assert.Equal(heard, Bench.Accepted.Count);
        Assert.InRange(Bench.Inbox.Notices.Count, 1, 3);
        await Bench.Back(Device, Bench.Inbox.Notices.Count == 1 ? 1 : 3);
        await Bench.HearsAPhrase();
        Assert.InRange(Bench.Inbox.Notices.Count, 2, 4);
    }

    // I8. Went wrong: the sound system gave no sign of the gap, and a phrase without its middle was recognised as if it were whole.
    [Fact]
    public async Task A_phrase_with_a_hole_in_it_confirms_nothing_and_the_next_one_does()
    {
        await Bench.Awake();
        var heard = Bench.Inbox.Hearings.Count;
        var phrase = VoiceBench.Phrase;
        Bench.Room.Begin(Sounds.Join(phrase, phrase[(phrase.Length / 2)..]));
        await Task.Delay(AudioFormat.Length(phrase.Length) / 2);
        system.Control("suspend-source", "mic", "1");
        await Task.Delay(AudioFormat.Length(phrase.Length) / 2);
        system.Control("suspend-source", "mic", "0");
        await Bench.Inbox.Wait<Engine.Ports.Hearing>(heard + 1);
        Assert.All(Bench.Inbox.Hearings.Skip(heard), hearing => Assert.Equal(Engine.Ports.HearingOutcome.NotForUs, hearing.Outcome));
        await Task.Delay(1_000);
        Assert.All(Bench.Inbox.Hearings.Skip(heard), hearing => Assert.Equal(Engine.Ports.HearingOutcome.NotForUs, hearing.Outcome));
        await Bench.HearsAPhrase();
    }
}
