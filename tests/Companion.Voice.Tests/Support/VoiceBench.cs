using System.Diagnostics;
using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Speaking;

namespace Companion.Voice.Tests.Support;

/// <summary>The whole voice of the product on a private sound system, with a room around it, and a stopwatch from act to notice.</summary>
public sealed class VoiceBench : IDisposable
{
    /// <summary>The promise: a loss is noticed within this time.</summary>
    public static readonly TimeSpan Promise = TimeSpan.FromSeconds(2);

    /// <summary>Nothing takes longer, whatever else the machine does.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(15);

    private const string Words = "affirm four seven";
    private static readonly Lazy<short[]> Spoken = new(() => Sounds.Espeak("en-gb-x-rp", Words, 160));

    private const int AwakeFrames = 25;

    private readonly VoiceKit voice;
    private readonly IDisposable? room;
    private int frames;
    private long acted;
    private long prompts;

    /// <summary>Starts the voice.</summary>
    /// <param name="system">The sound system, not disposed of.</param>
    /// <param name="microphone">A source; null for the default one, as the product does.</param>
    /// <param name="loudspeaker">A sink; null for the default one, as the product does.</param>
    /// <param name="room">The room, not disposed of; null for one of its own.</param>
    public VoiceBench(SoundSystem system, string? microphone = null, string? loudspeaker = null, Room? room = null)
    {
        Room = room ?? new Room(system.Server);
        this.room = room is null ? Room : null;
        var listening = new HookedMicrophone(new PulseMicrophone(microphone, system.Server), () => Interlocked.Increment(ref frames));
        voice = VoiceKit.Start(
            new VoiceOptions(Assets.Folder, listening, new PulseLoudspeaker(loudspeaker, system.Server), new RealPace(TimeProvider.System))
            {
                Synthesiser = new LengthSynthesiser(),
            },
            new RealClock(), Inbox);
        voice.Ear.Listen(new ListeningFor(1, ProductPhrases.Only("code", "stop", "yes", "no")));
    }

    public Room Room { get; }

    public RecordingInbox Inbox { get; } = new();

    public static short[] Phrase => Spoken.Value;

    public IReadOnlyList<Hearing> Accepted => [.. Inbox.Hearings.Where(hearing => hearing.Outcome == HearingOutcome.Accepted)];

    /// <summary>Does it, and starts the stopwatch before.</summary>
    public void Act(Action act)
    {
        acted = Stopwatch.GetTimestamp();
        act();
    }

    /// <summary>The next notice of the device after the ones seen, in time.</summary>
    public async Task<DeviceNotice> Lost(string device, int seen = 0)
    {
        var notice = await Notice(device, seen);
        var elapsed = Stopwatch.GetElapsedTime(acted);
        Assert.False(notice.Present, notice.Detail);
        Assert.True(elapsed <= Promise, $"{device}: noticed after {elapsed.TotalSeconds:0.00} s");
        Figures.Add($"{device} {elapsed.TotalSeconds:0.00} s: {notice.Detail}");
        return notice;
    }

    /// <summary>The device's return, after so many notices of it.</summary>
    public async Task Back(string device, int seen = 1)
    {
        var notice = await Notice(device, seen);
        Assert.True(notice.Present, notice.Detail);
        Figures.Add($"{device} back {Stopwatch.GetElapsedTime(acted).TotalSeconds:0.00} s");
    }

    /// <summary>What was measured, for the test's output.</summary>
    public List<string> Figures { get; } = [];

    /// <summary>Waits until the microphone gives sound and it is heard: a phrase in the right words.</summary>
    public async Task HearsAPhrase()
    {
        var before = Accepted.Count;
        for (var patience = Stopwatch.StartNew(); Accepted.Count == before;)
        {
            Assert.True(patience.Elapsed < Patience, $"Not heard: {string.Join("; ", Inbox.All)}");
            await Room.Say(Phrase);
            for (var waited = Stopwatch.StartNew(); Accepted.Count == before && waited.ElapsedMilliseconds < 1_500;)
            {
                await Task.Delay(10);
            }
        }

        Assert.All(Accepted, hearing => Assert.Equal(Words, hearing.Words));
    }

    /// <summary>Says a prompt of so many seconds; its number.</summary>
    public long Say(double seconds, Urgency urgency = Urgency.Step)
    {
        var prompt = new Prompt(++prompts, urgency, FormattableString.Invariant($"{seconds}"), 0);
        voice.Speaker.Say(prompt);
        return prompt.Id;
    }

    /// <summary>Says the sound check's prompt, or any other.</summary>
    public long Say(string text, bool isSoundCheck)
    {
        voice.Speaker.Say(new Prompt(++prompts, Urgency.Step, text, 1) { IsSoundCheck = isSoundCheck });
        return prompts;
    }

    /// <summary>What became of a prompt.</summary>
    public async Task<PromptReceipt> Receipt(long id)
    {
        for (var patience = Stopwatch.StartNew(); Inbox.Receipts.All(receipt => receipt.Id != id); await Task.Delay(5))
        {
            Assert.True(patience.Elapsed < Patience, $"No receipt of {id}: {string.Join("; ", Inbox.All)}");
        }

        return Inbox.Receipts.Single(receipt => receipt.Id == id);
    }

    /// <summary>Waits until sound comes through the microphone: the sound system takes up to 2 s to wake.</summary>
    public async Task Awake()
    {
        for (var patience = Stopwatch.StartNew(); Volatile.Read(ref frames) < AwakeFrames; await Task.Delay(10))
        {
            Assert.True(patience.Elapsed < Patience, $"No sound comes: {string.Join("; ", Inbox.All)}");
        }

        Assert.Empty(Inbox.Notices);
    }

    public void Dispose()
    {
        voice.Dispose();
        room?.Dispose();
    }

    private async Task<DeviceNotice> Notice(string device, int seen)
    {
        for (var patience = Stopwatch.StartNew(); patience.Elapsed < Patience; await Task.Delay(5))
        {
            if (Inbox.Notices.Where(notice => notice.Device == device).ElementAtOrDefault(seen) is { } notice)
            {
                return notice;
            }
        }

        throw new Xunit.Sdk.XunitException($"No notice {seen + 1} of the {device}: {string.Join("; ", Inbox.All)}");
    }

    /// <summary>A text that is a number sounds for so many seconds; other texts are spoken.</summary>
    private sealed class LengthSynthesiser : ISynthesiser
    {
        public short[] Speak(string text) => double.TryParse(text, System.Globalization.CultureInfo.InvariantCulture, out var seconds)
            ? Sounds.Tone(seconds)
            : Sounds.Espeak("en-gb", text);
    }
}
