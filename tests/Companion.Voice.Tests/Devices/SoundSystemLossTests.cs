using Companion.Voice.Tests.Audio;
using Companion.Voice.Tests.Support;
using Xunit.Abstractions;

namespace Companion.Voice.Tests.Devices;

/// <summary>The sound system itself fails in the middle of a job, and the app goes on.</summary>
[Collection(RealSound.Name)]
public sealed class SoundSystemLossTests : IDisposable
{
    private readonly SoundSystem system = new();
    private readonly VoiceBench bench;

    private readonly ITestOutputHelper output;

    public SoundSystemLossTests(ITestOutputHelper output)
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
    public async Task A_sound_system_that_is_killed_takes_both_devices_and_its_restart_brings_both_back()
    {
        await bench.Awake();
        bench.Act(system.StopDaemon);
        await Task.WhenAll(bench.Lost("microphone"), bench.Lost("loudspeaker"));
        bench.Act(system.StartDaemon);
        await Task.WhenAll(bench.Back("microphone"), bench.Back("loudspeaker"));
        Assert.True((await bench.Receipt(bench.Say(0.3))).PlayedToEnd);
        await bench.HearsAPhrase();
    }

    // Went wrong: the loudspeaker waited for a hanging sound system for ever, and no alarm sounded after that.
    [Fact]
    public async Task A_sound_system_that_hangs_takes_both_devices_and_both_come_back_when_it_goes_on()
    {
        await bench.Awake();
        var prompt = bench.Say(5);
        await Task.Delay(500);
        bench.Act(system.Freeze);
        await Task.WhenAll(bench.Lost("microphone"), bench.Lost("loudspeaker"));
        Assert.False((await bench.Receipt(prompt)).PlayedToEnd);
        bench.Act(system.Thaw);
        await Task.WhenAll(bench.Back("microphone"), bench.Back("loudspeaker"));
        Assert.True((await bench.Receipt(bench.Say(0.3))).PlayedToEnd);
        await bench.HearsAPhrase();
    }
}
