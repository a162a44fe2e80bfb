using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Companion.EndToEnd.Tests;

/// <summary>What came out of the loudspeaker, recorded at its monitor.</summary>
internal sealed class Loudspeaker : IDisposable
{
    private const int Rate = 16_000;

    private readonly Process _recorder;
    private readonly MemoryStream _sound = new();
    private readonly Task _reading;
    private DateTimeOffset? _began;

    public Loudspeaker(string server)
    {
        _recorder = Process.Start(new ProcessStartInfo(
            "parec", ["-s", server, "-d", "spk.monitor", "--rate=16000", "--channels=1", "--format=s16le", "--latency-msec=20"])
        {
            RedirectStandardOutput = true,
        })!;
        _reading = Task.Run(ReadAsync);
    }

    /// <summary>Root mean square (full scale 1) of a stretch of time.</summary>
    public double Level(DateTimeOffset from, DateTimeOffset to)
    {
        short[] samples;
        lock (_sound)
        {
            samples = MemoryMarshal.Cast<byte, short>(_sound.ToArray()).ToArray();
        }

        var first = Math.Clamp((int)((from - _began!.Value).TotalSeconds * Rate), 0, samples.Length);
        var last = Math.Clamp((int)((to - _began.Value).TotalSeconds * Rate), first, samples.Length);
        return last == first ? 0 : Math.Sqrt(samples[first..last].Average(sample => (double)sample * sample)) / 32768;
    }

    public void Dispose()
    {
        _recorder.Kill();
        _recorder.WaitForExit();
        _reading.Wait(TimeSpan.FromSeconds(5));
        _recorder.Dispose();
        _sound.Dispose();
    }

    private async Task ReadAsync()
    {
        var piece = new byte[640];
        for (int count; (count = await _recorder.StandardOutput.BaseStream.ReadAsync(piece)) > 0;)
        {
            _began ??= DateTimeOffset.Now;
            lock (_sound)
            {
                _sound.Write(piece, 0, count);
            }
        }
    }
}
