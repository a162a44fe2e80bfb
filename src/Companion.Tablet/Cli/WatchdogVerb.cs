using System.Globalization;
using Companion.Tablet.Watchdog;

namespace Companion.Tablet.Cli;

/// <summary>watchdog --url BEAT --pid N: started by "start", in a process of its own, so that a hang of the app cannot reach it.</summary>
public static class WatchdogVerb
{
    /// <summary>The environment variable that carries the app's token.</summary>
    public const string TokenVariable = "COMPANION_TOKEN";

    /// <summary>Watches until it is killed or told to end.</summary>
    public static async Task<int> RunAsync(Options options)
    {
        options.Only("url", "pid");
        var token = Environment.GetEnvironmentVariable(TokenVariable) ?? throw new UsageException($"{TokenVariable} is needed.");
        using var end = new CancellationTokenSource();
        Console.CancelKeyPress += (_, pressed) =>
        {
            pressed.Cancel = true;
            end.Cancel();
        };
        var watched = new WatchdogOptions(
            new Uri(options.Required("url")), token, int.Parse(options.Required("pid"), CultureInfo.InvariantCulture));
        var folder = Directory.CreateTempSubdirectory("companion-alarm-").FullName;
        var alarm = Environment.GetEnvironmentVariable("COMPANION_ALARM") is { } player ? new PlayedAlarm(folder, player) : new PlayedAlarm(folder);
        await new EngineWatchdog(watched, alarm, Console.Error, TimeProvider.System).RunAsync(end.Token).ConfigureAwait(false);
        return 0;
    }
}
