using Companion.Voice.Audio;

namespace Companion.Voice.Tests.Support;

/// <summary>A loudspeaker that keeps what it was given. A test can stop it in the middle, take it away, and see what happens meanwhile.</summary>
public sealed class FakeLoudspeaker(ManualClock clock) : ILoudspeaker
{
    private const int Run = 50;

    private readonly Lock gate = new();
    private readonly List<short> played = [];

    public ManualResetEventSlim Free { get; } = new(true);

    public bool Missing { get; set; }

    public Action<int>? OnPlay { get; set; }

    public int Drained { get; private set; }

    public IReadOnlyList<short> Played
    {
        get
        {
            lock (gate)
            {
                return [.. played];
            }
        }
    }

    /// <summary>The values played, without repetition: which prompts sounded in which order.</summary>
    public IReadOnlyList<short> Order
    {
        get
        {
            List<short> order = [];
            var all = Played;
            for (var n = Run; n < all.Count; n++)
            {
                // Tones cross small values too; speech of the fake synthesiser stays on one.
                var steady = all[n] == all[n - 1] && all[n] == all[n - Run];
                if (steady && all[n] != 0 && (order.Count == 0 || order[^1] != all[n]))
                {
                    order.Add(all[n]);
                }
            }

            return order;
        }
    }

    public void Play(ReadOnlySpan<short> samples)
    {
        if (Missing)
        {
            throw new AudioDeviceException("No loudspeaker. Plug it in.");
        }

        lock (gate)
        {
            played.AddRange(samples);
        }

        clock.Advance(AudioFormat.Length(samples.Length));
        OnPlay?.Invoke(played.Count);
        Free.Wait(TimeSpan.FromSeconds(10));
    }

    public void Drain() => Drained++;

    public void Discard()
    {
    }

    public void Probe()
    {
        if (Missing)
        {
            throw new AudioDeviceException("No loudspeaker. Plug it in.");
        }
    }

    public void Dispose() => Free.Set();
}
