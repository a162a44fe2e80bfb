using Companion.Voice.Tests.Audio;
using Companion.Voice.Tests.Support;
using Xunit.Abstractions;

namespace Companion.Voice.Tests.Devices;

/// <summary>The loudspeaker goes and comes back, on a real sound system. What was playing then was not heard to its end (I19).</summary>
[Collection(RealSound.Name)]
public sealed class LoudspeakerLossTests(ITestOutputHelper output) : IDisposable
{
    private const string Device = "loudspeaker";
    private const string Other = "module-null-sink sink_name=other rate=16000 channels=1";

    private readonly SoundSystem system = new();
    private VoiceBench? bench;

    private VoiceBench Bench => bench ??= new VoiceBench(system);

    public void Dispose()
    {
        Bench.Figures.ForEach(output.WriteLine);
        Bench.Dispose();
        system.Dispose();
    }

    [Fact]
    public async Task A_prompt_whose_loudspeaker_is_unplugged_has_failed_and_the_queue_goes_on_when_it_is_back()
    {
        bench = new VoiceBench(system, loudspeaker: "spk");
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
        var prompt = Bench.Say(4);
        await Task.Delay(700);
        Bench.Act(system.UnplugLoudspeaker);
        Assert.Contains("plugged in", (await Bench.Lost(Device)).Detail);
        Assert.Equal((false, "no loudspeaker"), ((await Bench.Receipt(prompt)).PlayedToEnd, (await Bench.Receipt(prompt)).Reason));

        Bench.Act(() => system.PlugLoudspeaker());
        await Bench.Back(Device);
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
    }

    // Went wrong: the server moved the prompt to whatever was left, the device that nobody hears included, and it counted as played.
    [Fact]
    public async Task A_prompt_that_the_sound_system_moves_to_another_loudspeaker_has_failed_and_the_next_one_sounds_there()
    {
        system.Load(Other);
        system.Control("set-default-sink", "spk");
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
        var prompt = Bench.Say(4);
        await Task.Delay(700);
        Bench.Act(system.UnplugLoudspeaker);
        Assert.Contains("another one", (await Bench.Lost(Device)).Detail);
        Assert.False((await Bench.Receipt(prompt)).PlayedToEnd);
        await Bench.Back(Device);
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
    }

    [Fact]
    public async Task Nothing_is_played_into_the_device_that_stands_for_no_device()
    {
        system.Load("module-null-sink sink_name=auto_null rate=16000 channels=1");
        system.Control("set-default-sink", "spk");
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
        Bench.Act(() =>
        {
            system.Control("set-default-sink", "auto_null");
            system.UnplugLoudspeaker();
        });
        await Bench.Lost(Device);
        Assert.False((await Bench.Receipt(Bench.Say(0.3, Engine.Ports.Urgency.Alarm))).PlayedToEnd);
        Assert.DoesNotContain(Bench.Inbox.Notices, notice => notice.Present);
    }

    [Fact]
    public async Task A_loudspeaker_suspended_while_a_prompt_sounds_is_lost_and_so_is_the_prompt()
    {
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
        var prompt = Bench.Say(4);
        await Task.Delay(700);
        Bench.Act(() => system.Control("suspend-sink", "spk", "1"));
        await Bench.Lost(Device);
        Assert.False((await Bench.Receipt(prompt)).PlayedToEnd);
        Bench.Act(() => system.Control("suspend-sink", "spk", "0"));
        await Bench.Back(Device);
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
    }

    [Fact]
    public async Task A_loudspeaker_that_comes_and_goes_while_nothing_is_said_is_told_of_twice()
    {
        bench = new VoiceBench(system, loudspeaker: "spk");
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
        Bench.Act(system.UnplugLoudspeaker);
        await Bench.Lost(Device);
        for (var n = 0; n < 3; n++)
        {
            system.PlugLoudspeaker();
            await Task.Delay(700);
            system.UnplugLoudspeaker();
            await Task.Delay(600);
        }

        Assert.InRange(Bench.Inbox.Notices.Count, 1, 3);
        Bench.Act(() => system.PlugLoudspeaker());
        await Bench.Back(Device, 3);
        Assert.Equal(4, Bench.Inbox.Notices.Count);
        Assert.True((await Bench.Receipt(Bench.Say(0.3))).PlayedToEnd);
    }
}
