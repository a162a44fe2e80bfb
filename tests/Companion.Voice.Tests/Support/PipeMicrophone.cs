using System.Diagnostics;
using System.Runtime.InteropServices;
using Companion.Voice.Audio;

namespace Companion.Voice.Tests.Support;

/// <summary>A virtual microphone that runs at the pace at which it is fed, which may be wrong.</summary>
public sealed class PipeMicrophone : IDisposable
{
    public const string Source = "pipe";

    private readonly string path = Path.Combine(Path.GetTempPath(), $"companion-{Guid.NewGuid():N}.pipe");
    private readonly CancellationTokenSource end = new();
    private readonly Thread feeder;
    private volatile float speed = 1;

    public PipeMicrophone(SoundSystem system)
    {
        system.Load($"module-pipe-source source_name={Source} file={path} format=s16le rate=16000 channels=1");
        feeder = new Thread(Feed) { Name = "pipe", IsBackground = true };
        feeder.Start();
    }

    /// <summary>1 is right.</summary>
    public double Speed
    {
        get => speed;
        set => speed = (float)value;
    }

    public void Dispose()
    {
        end.Cancel();
        feeder.Join(TimeSpan.FromSeconds(3));
        end.Dispose();
        File.Delete(path);
    }

    private void Feed()
    {
        using var pipe = new FileStream(path, FileMode.Open, FileAccess.Write, FileShare.ReadWrite, bufferSize: 0);
        var due = Stopwatch.GetTimestamp();
        for (var seed = 1; !end.IsCancellationRequested; seed++)
        {
            pipe.Write(MemoryMarshal.AsBytes<short>(Sounds.Noise(0.02, 0.001, seed)));
            due += (long)(Stopwatch.Frequency * AudioFormat.Length(320).TotalSeconds / speed);
            var left = Stopwatch.GetElapsedTime(Stopwatch.GetTimestamp(), due);
            if (left > TimeSpan.Zero)
            {
                end.Token.WaitHandle.WaitOne(left);
            }
        }
    }
}
