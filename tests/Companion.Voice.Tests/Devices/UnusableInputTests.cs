using Companion.Voice.Tests.Audio;
using Companion.Voice.Tests.Support;
using Xunit.Abstractions;

namespace Companion.Voice.Tests.Devices;

/// <summary>A microphone that is there and gives what is no sound, or sound at another rate or pace, on a real sound system.</summary>
[Collection(RealSound.Name)]
public sealed class UnusableInputTests(SharedSound sound, ITestOutputHelper output) : IClassFixture<SharedSound>, IDisposable
{
    private const string Device = "microphone";

    private readonly List<string> figures = [];

    public static TheoryData<string, string> Faults => new()
    {
        { "suspended", "stopped giving sound" },
        { "muted", "mute switch" },
        { "stuck on one value", "stuck on one value" },
        { "a stuck buffer", "repeats itself" },
        { "an offset", "pushed to one side" },
        { "far too quiet", "far too quiet" },
        { "overdriven", "overdriven" },
    };

    // The sound system outlives a test that failed.
    public void Dispose()
    {
        Break("suspended", false);
        Break("muted", false);
        sound.Room.Break(null);
        figures.ForEach(output.WriteLine);
    }

    [Theory]
    [MemberData(nameof(Faults))]
    public async Task An_input_that_is_no_sound_is_told_of_in_time_and_so_is_its_end(string fault, string expected)
    {
        using var bench = new VoiceBench(sound.System, room: sound.Room);
        await bench.Awake();
        bench.Act(() => Break(fault, true));
        var lost = await bench.Lost(Device);
        Assert.Contains(expected, lost.Detail);
        Assert.Matches("keeps trying|meanwhile", lost.Detail);
        bench.Act(() => Break(fault, false));
        await bench.Back(Device);
        figures.AddRange(bench.Figures);
    }

    [Fact]
    public async Task Microphones_of_other_rates_are_heard()
    {
        await Task.WhenAll(new[] { 8_000, 44_100, 48_000 }.Select(async rate =>
        {
            sound.System.Load($"module-null-sink sink_name=sink{rate} rate={rate} channels=1");
            sound.System.Load($"module-remap-source master=sink{rate}.monitor source_name=mic{rate} channels=1 rate={rate}");
            using var room = new Room(sound.System.Server, $"sink{rate}");
            using var bench = new VoiceBench(sound.System, microphone: $"mic{rate}", room: room);
            await bench.Awake();
            await bench.HearsAPhrase();
        }));
    }

    [Fact]
    public async Task A_microphone_that_runs_at_half_its_pace_is_told_of_and_so_is_its_return_to_the_right_one()
    {
        using var pipe = new PipeMicrophone(sound.System);
        using var bench = new VoiceBench(sound.System, microphone: PipeMicrophone.Source, room: sound.Room);
        await bench.Awake();
        bench.Act(() => pipe.Speed = 0.5);
        Assert.Contains("wrong speed", (await bench.Lost(Device)).Detail);
        bench.Act(() => pipe.Speed = 1);
        await bench.Back(Device);
        figures.AddRange(bench.Figures);
    }

    private void Break(string fault, bool now)
    {
        switch (fault)
        {
            case "suspended":
                sound.System.Control("suspend-source", "mic", now ? "1" : "0");
                break;
            case "muted":
                sound.System.Control("set-source-mute", "mic", now ? "1" : "0");
                break;
            default:
                sound.Room.Break(now ? Pieces(fault) : null);
                break;
        }
    }

    private static Func<short[]> Pieces(string fault)
    {
        var seed = 0;
        var buffer = Sounds.Noise(0.1, 0.01);
        return fault switch
        {
            "stuck on one value" => () => [.. Enumerable.Repeat((short)900, 1_600)],
            "a stuck buffer" => () => buffer,
            "an offset" => () => [.. Sounds.Noise(0.1, 0.001, ++seed).Select(sample => (short)(sample + 8_000))],
            "far too quiet" => () => [.. Sounds.Noise(0.1, 0.001, ++seed).Select(sample => (short)Math.Clamp(sample / 40, -1, 1))],
            _ => () => Sounds.Mix(Sounds.Tone(0.1, 3, 440 + ++seed), Sounds.Noise(0.1, 0.01, seed)),
        };
    }
}
