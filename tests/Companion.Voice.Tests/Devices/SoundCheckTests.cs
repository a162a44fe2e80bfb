using Companion.Voice.Tests.Audio;
using Companion.Voice.Tests.Support;
using Companion.Voice.TurnTaking;
using Xunit.Abstractions;

namespace Companion.Voice.Tests.Devices;

/// <summary>The sound check finds out whether the microphone hears the loudspeaker, through a virtual room between the two (I19).</summary>
[Collection(RealSound.Name)]
public sealed class SoundCheckTests : IDisposable
{
    private const string Words = "Say affirm, four seven.";

    private readonly SoundSystem system = new();
    private readonly ITestOutputHelper output;
    private readonly VoiceBench bench;

    public SoundCheckTests(ITestOutputHelper output)
    {
        this.output = output;
        bench = new VoiceBench(system);
    }

    public void Dispose()
    {
        bench.Figures.ForEach(output.WriteLine);
        bench.Dispose();
        system.Dispose();
    }

    [Fact]
    public async Task A_muted_loudspeaker_is_warned_of_at_the_sound_check_and_an_audible_one_is_not()
    {
        system.Load("module-loopback source=spk.monitor sink=micsink latency_msec=60");
        await bench.Awake();
        Assert.True((await bench.Receipt(bench.Say(Words, isSoundCheck: true))).PlayedToEnd);
        await Task.Delay(1_800);
        Assert.Empty(bench.Inbox.Notices);

        system.Control("set-sink-mute", "spk", "1");
        Assert.True((await bench.Receipt(bench.Say(Words, isSoundCheck: true))).PlayedToEnd);
        bench.Act(() => { });
        Assert.Contains("turn it up", (await bench.Lost(LoudspeakerEcho.Device)).Detail);

        system.Control("set-sink-mute", "spk", "0");
        Assert.True((await bench.Receipt(bench.Say(Words, isSoundCheck: true))).PlayedToEnd);
        await bench.Back(LoudspeakerEcho.Device);
    }
}
