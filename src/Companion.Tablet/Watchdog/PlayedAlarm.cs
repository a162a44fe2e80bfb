using System.ComponentModel;
using System.Diagnostics;
using Companion.Voice.Audio;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Watchdog;

/// <summary>
/// Plays the alarm through a player program: sound servers of the app may hang with it. A player that is not there, that fails, or that
/// does not end hands over to the next, so that one broken way to the loudspeaker does not make the alarm mute.
/// </summary>
public sealed class PlayedAlarm : IAlarm
{
    private static readonly string[] Players = ["paplay", "aplay", "pw-play"];

    private static readonly TimeSpan Slack = TimeSpan.FromSeconds(3);

    private readonly string _file;
    private readonly string[] _players;
    private readonly Lock _gate = new();
    private Process? _playing;
    private long _begun;
    private int _player;

    /// <summary>An alarm through players, the first that works.</summary>
    /// <param name="folder">Where the sound is put.</param>
    /// <param name="players">The programs that take the sound file as their argument; none for the usual ones.</param>
    public PlayedAlarm(string folder, params string[] players)
    {
        Directory.CreateDirectory(folder);
        _file = Path.Combine(folder, "alarm.wav");
        var siren = AlarmTone.Siren();
        WavFile.Write(_file, siren);
        Longest = TimeSpan.FromSeconds((double)siren.Length / AudioFormat.SampleRate) + Slack;
        _players = players.Length == 0 ? Players : players;
    }

    /// <summary>A player that takes longer hangs: the siren, and what a player may take to begin and to end.</summary>
    public TimeSpan Longest { get; init; }

    /// <inheritdoc/>
    public void Sound()
    {
        lock (_gate)
        {
            if (_playing is { HasExited: false })
            {
                if (Stopwatch.GetElapsedTime(_begun) < Longest)
                {
                    return;
                }

                End();
                _player++;
            }

            Play(_players.Length);
        }
    }

    /// <inheritdoc/>
    public void Silence()
    {
        lock (_gate)
        {
            End();
        }
    }

    private void End()
    {
        if (_playing is { HasExited: false } playing)
        {
            playing.Kill();
        }

        _playing = null;
    }

    private void Play(int tries)
    {
        for (; tries > 0; tries--, _player++)
        {
            if (Start(_players[_player % _players.Length], tries - 1) is { } started)
            {
                (_playing, _begun) = (started, Stopwatch.GetTimestamp());
                return;
            }
        }
    }

    private Process? Start(string player, int triesLeft)
    {
        var process = new Process
        {
            StartInfo = new ProcessStartInfo(player, [_file]) { RedirectStandardError = true, RedirectStandardOutput = true },
            EnableRaisingEvents = true,
        };
        process.Exited += (_, _) => Ended(process, triesLeft);
        try
        {
            process.Start();
            process.BeginErrorReadLine();
            process.BeginOutputReadLine();
            return process;
        }
        catch (Win32Exception)
        {
            // This player is not there; the next one may be.
            process.Dispose();
            return null;
        }
    }

    private void Ended(Process process, int triesLeft)
    {
        lock (_gate)
        {
            if (_playing == process && process.ExitCode != 0)
            {
                _player++;
                Play(triesLeft);
            }
        }
    }
}
