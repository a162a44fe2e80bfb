using Companion.Tablet.Tests.Support;
using Companion.Tablet.Watchdog;

namespace Companion.Tablet.Tests;

/// <summary>The alarm reaches a loudspeaker by whatever program still can (I18).</summary>
public sealed class PlayedAlarmTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-alarm-").FullName;

    private string Played => Path.Combine(_folder, "played");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task The_alarm_is_played_by_a_program_of_its_own()
    {
        new PlayedAlarm(_folder, Player("player", $"cp \"$1\" {Played}")).Sound();
        await TabletRig.UntilTrueAsync(() => File.Exists(Played) && new FileInfo(Played).Length > 100_000);
    }

    // Went wrong: a player that was there but could not reach its sound server kept the others from being tried.
    [Fact]
    public async Task A_player_that_is_not_there_or_fails_hands_over_to_the_next()
    {
        var alarm = new PlayedAlarm(_folder, Path.Combine(_folder, "absent"), Player("failing", "exit 1"), Player("player", $"echo x >>{Played}"));
        alarm.Sound();
        await TabletRig.UntilTrueAsync(() => File.Exists(Played));
    }

    [Fact]
    public async Task Silence_ends_the_sound_and_starts_no_other_player()
    {
        var begun = Path.Combine(_folder, "begun");
        var alarm = new PlayedAlarm(_folder, Player("long", $"echo $$ >{begun}; exec sleep 60"), Player("player", $"echo x >>{Played}"));
        alarm.Sound();
        await TabletRig.UntilTrueAsync(() => File.Exists(begun) && new FileInfo(begun).Length > 1);
        var process = int.Parse(await File.ReadAllTextAsync(begun), System.Globalization.CultureInfo.InvariantCulture);
        alarm.Silence();
        await TabletRig.UntilTrueAsync(() => !TabletProcess.IsRunning(process));
        await Task.Delay(200);
        Assert.False(File.Exists(Played));
    }

    // Went wrong: a player that hung with the sound system was waited for, and the alarm stayed mute for ever.
    [Fact]
    public async Task A_player_that_hangs_is_ended_and_the_next_one_plays()
    {
        var alarm = new PlayedAlarm(_folder, Player("hanging", "exec sleep 60"), Player("player", $"echo x >>{Played}"))
        {
            Longest = TimeSpan.FromMilliseconds(200),
        };
        await TabletRig.UntilTrueAsync(() =>
        {
            // Again and again, as the watchdog does. On a busy machine even the player that works may take longer than it is given here.
            alarm.Sound();
            return File.Exists(Played);
        });
    }

    private string Player(string name, string does)
    {
        var path = Path.Combine(_folder, name);
        File.WriteAllText(path, $"#!/bin/sh\n{does}\n");
        File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        return path;
    }
}
