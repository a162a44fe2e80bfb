using System.Collections.Concurrent;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Voice.Audio;
using Companion.Voice.Keeping;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Keeping;

/// <summary>A keeper over a folder, with a simulated microphone: sound that a test makes comes late by what the test says, and never early.</summary>
internal sealed class KeeperBench : IDisposable
{
    public const string Job = "job-1";

    private readonly SoundKeeper keeper;
    private readonly ConcurrentQueue<(string Job, SoundRecorded Part)> whole = new();
    private readonly long began;
    private long position;

    public KeeperBench(PartFiles? files = null, string? store = null)
    {
        Store = store ?? Directory.CreateTempSubdirectory("companion-sound").FullName;
        keeper = new SoundKeeper(files ?? new PartFiles(Store), Clock, Inbox);
        keeper.Whole += (job, part) => whole.Enqueue((job, part));
        began = Clock.Now().Boot.Nanoseconds;
    }

    public string Store { get; }

    public ManualClock Clock { get; } = new();

    public RecordingInbox Inbox { get; } = new();

    public SoundKeeper Keeper => keeper;

    public IReadOnlyList<(string Job, SoundRecorded Part)> Whole => [.. whole];

    public IEnumerable<string> Files => Directory.Exists(Path.Combine(Store, "sound")) ? Directory.EnumerateFiles(Path.Combine(Store, "sound"), "*", SearchOption.AllDirectories) : [];

    /// <summary>When a sample of the microphone's sound truly sounded.</summary>
    public Ticks TrueTime(long sample) => new(began + (sample * (Ticks.PerSecond / AudioFormat.SampleRate)));

    /// <summary>Gives frames; each sample is full scale where <paramref name="isLoud"/> says so.</summary>
    public void Hear(int frames, Func<int, int>? lateMilliseconds = null, Func<long, bool>? isLoud = null)
    {
        for (var frame = 0; frame < frames; frame++)
        {
            var sound = new float[AudioFormat.FrameSamples];
            for (var n = 0; n < sound.Length; n++)
            {
                sound[n] = isLoud?.Invoke(position + n) == true ? 0.5f : 0.001f;
            }

            position += sound.Length;
            Clock.Advance(AudioFormat.Length(sound.Length));
            var late = Ticks.OfMilliseconds(lateMilliseconds?.Invoke(frame) ?? 0);
            var now = Clock.Now();
            keeper.Take(sound, now with { Boot = now.Boot + late });
            Settle(frame);
        }
    }

    /// <summary>Sound that never reaches the ear.</summary>
    public void Miss(int frames)
    {
        position += frames * AudioFormat.FrameSamples;
        Clock.Advance(AudioFormat.Length((long)frames * AudioFormat.FrameSamples));
        keeper.Break();
    }

    /// <summary>How long a test waits for the disk between two seconds of sound; not at all when the disk is to hang.</summary>
    public TimeSpan Patience { get; init; } = TimeSpan.FromSeconds(10);

    public async Task<SoundRecorded> WaitWhole(int count)
    {
        using var timeout = new CancellationTokenSource(TimeSpan.FromSeconds(10));
        while (whole.Count < count)
        {
            Assert.False(timeout.IsCancellationRequested, $"Only {whole.Count} of {count} parts came.");
            await Task.Delay(10);
        }

        return whole.ToArray()[count - 1].Part;
    }

    public void Dispose()
    {
        keeper.Dispose();
        Directory.Delete(Store, recursive: true);
    }

    // A test gives a minute at once; the keeper's queue holds eight seconds.
    private void Settle(int frame)
    {
        if (frame % 50 == 49)
        {
            SpinWait.SpinUntil(() => keeper.Waiting < 50, Patience);
        }
    }
}
