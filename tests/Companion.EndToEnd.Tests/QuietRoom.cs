using System.Diagnostics;
using Companion.Voice.Audio;

namespace Companion.EndToEnd.Tests;

/// <summary>The faint noise that every real microphone gives; without it the Companion rightly reports a dead input.</summary>
internal sealed class QuietRoom : IDisposable
{
    private const int Minutes = 20;

    private readonly Process _player;

    public QuietRoom(string folder, string server)
    {
        var file = Path.Combine(folder, "room.wav");
        var random = new Random(3);
        var samples = new short[Minutes * 60 * AudioFormat.SampleRate];
        for (var n = 0; n < samples.Length; n++)
        {
            samples[n] = (short)random.Next(-30, 31);
        }

        WavFile.Write(file, samples);
        _player = Process.Start("paplay", ["-s", server, "-d", "micsink", file]);
    }

    public void Dispose()
    {
        _player.Kill();
        _player.WaitForExit();
        _player.Dispose();
    }
}
