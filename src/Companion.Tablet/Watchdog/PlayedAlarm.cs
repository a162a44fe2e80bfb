using System.ComponentModel;
using System.Diagnostics;
using Companion.Voice.Audio;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Watchdog;

/// <summary>Plays the alarm through a player program: sound servers of the app may hang with it.</summary>
public sealed class PlayedAlarm : IAlarm
{
    private static readonly string[] Players = ["paplay", "aplay", "pw-play"];

    private readonly string _file;
    private readonly string[] _players;
    private Process? _playing;

    /// <summary>An alarm through a player; without one the first that is there of paplay, aplay and pw-play.</summary>
    /// <param name="folder">Where the sound is put.</param>
    /// <param name="player">The program that takes the sound file as its argument.</param>
    public PlayedAlarm(string folder, string? player = null)
    {
        Directory.CreateDirectory(folder);
        _file = Path.Combine(folder, "alarm.wav");
        WavFile.Write(_file, AlarmTone.Siren());
        _players = player is null ? Players : [player];
    }

    /// <inheritdoc/>
    public void Sound()
    {
        if (_playing is { HasExited: false })
        {
            return;
        }

        _playing?.Dispose();
        _playing = _players.Select(Start).FirstOrDefault(started => started is not null);
    }

    private Process? Start(string player)
    {
        try
        {
            var started = Process.Start(new ProcessStartInfo(player, [_file]) { RedirectStandardError = true, RedirectStandardOutput = true });
            started?.BeginErrorReadLine();
            started?.BeginOutputReadLine();
            return started;
        }
        catch (Win32Exception)
        {
            // This player is not there; the next one may be.
            return null;
        }
    }
}
