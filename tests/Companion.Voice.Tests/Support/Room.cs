using Companion.Voice.Audio;

namespace Companion.Voice.Tests.Support;

/// <summary>
/// What sounds in front of the virtual microphone: the faint noise of a room, and what a test says into it. Goes on after the sound system
/// was away.
/// </summary>
public sealed class Room : IDisposable
{
    private const double NoiseLevel = 0.001;
    private const int PieceSamples = 320;

    private readonly string server;
    private readonly string sink;
    private readonly Lock gate = new();
    private readonly CancellationTokenSource end = new();
    private readonly Thread player;
    private short[] saying = [];
    private int said;
    private Func<short[]>? fault;

    public Room(string server, string sink = "micsink")
    {
        this.server = server;
        this.sink = sink;
        player = new Thread(Play) { Name = "room", IsBackground = true };
        player.Start();
    }

    /// <summary>Says this now, over the noise; returns when it has been handed over.</summary>
    public async Task Say(short[] speech)
    {
        Begin(speech);
        while (IsSaying)
        {
            await Task.Delay(10);
        }
    }

    /// <summary>Begins to say this.</summary>
    public void Begin(short[] speech)
    {
        lock (gate)
        {
            saying = speech;
            said = 0;
        }
    }

    public bool IsSaying
    {
        get
        {
            lock (gate)
            {
                return said < saying.Length;
            }
        }
    }

    /// <summary>From now on the input gives pieces of this instead; null: the room again.</summary>
    public void Break(Func<short[]>? with)
    {
        lock (gate)
        {
            fault = with;
        }
    }

    public void Dispose()
    {
        end.Cancel();
        player.Join(TimeSpan.FromSeconds(3));
        end.Dispose();
    }

    private void Play()
    {
        using var loudspeaker = new PulseLoudspeaker(sink, server);
        for (var seed = 1; !end.IsCancellationRequested; seed++)
        {
            try
            {
                loudspeaker.Play(Next(seed));
            }
            catch (AudioDeviceException)
            {
                end.Token.WaitHandle.WaitOne(50);
            }
        }
    }

    private short[] Next(int seed)
    {
        lock (gate)
        {
            if (fault is not null)
            {
                return fault();
            }

            var noise = Sounds.Noise((double)PieceSamples / AudioFormat.SampleRate, NoiseLevel, seed);
            var piece = saying.Skip(said).Take(PieceSamples).ToArray();
            said += piece.Length;
            return Sounds.Mix(noise, piece);
        }
    }
}
