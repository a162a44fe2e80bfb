using System.Diagnostics;
using System.Net.Http.Json;
using System.Text.Json;
using Companion.Tablet.Web;

namespace Companion.Tablet.Watchdog;

/// <summary>
/// Watches the app from another process (I18): when its loop makes no turn, its server does not answer, or its process is gone, an alarm
/// sounds within two seconds and again until the app answers. Then the app is told, so that the alarm stands in its record until a person
/// answers.
/// </summary>
public sealed class EngineWatchdog(WatchdogOptions options, IAlarm alarm, TextWriter error, TimeProvider time)
{
    /// <summary>What is written beside the sound.</summary>
    public const string Words = "Companion does not answer. Treat as live.";

    /// <summary>What is written when the app answers again.</summary>
    public const string BackWords = "Companion answers again. What was proved before must be looked at again.";

    private static readonly TimeSpan OneLook = TimeSpan.FromMilliseconds(350);

    private string? _beat;
    private long _moved;
    private long? _alarmed;
    private TimeSpan? _untold;

    /// <summary>How often the alarm was given.</summary>
    public int Alarms { get; private set; }

    /// <summary>Watches until cancelled.</summary>
    public async Task RunAsync(CancellationToken cancellation)
    {
        using var http = new HttpClient(new SocketsHttpHandler { UseProxy = false, UseCookies = false }) { Timeout = OneLook };
        http.DefaultRequestHeaders.Add(GateKeeper.Header, options.Token);
        _moved = time.GetTimestamp();
        try
        {
            while (true)
            {
                Judge(await LookAsync(http, cancellation).ConfigureAwait(false));
                await TellAsync(http, cancellation).ConfigureAwait(false);
                await Task.Delay(options.LookEvery, time, cancellation).ConfigureAwait(false);
            }
        }
        catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
        {
            // Told to end: the app is being stopped on purpose.
        }
    }

    private void Judge(string? beat)
    {
        if (beat is not null && beat != _beat)
        {
            if (_alarmed is not null)
            {
                _alarmed = null;
                _untold = time.GetElapsedTime(_moved);
                alarm.Silence();
                error.WriteLine(BackWords);
            }

            _beat = beat;
            _moved = time.GetTimestamp();
            return;
        }

        var silent = time.GetElapsedTime(_moved) >= options.Limit || IsGone();
        if (silent && (_alarmed is not { } given || time.GetElapsedTime(given) >= options.AlarmAgain))
        {
            _alarmed = time.GetTimestamp();
            Alarms++;
            alarm.Sound();
            error.WriteLine(Words);
        }
    }

    private async Task<string?> LookAsync(HttpClient http, CancellationToken cancellation)
    {
        try
        {
            var report = await http.GetFromJsonAsync<BeatReport>(options.Beat, JsonSerializerOptions.Web, cancellation).ConfigureAwait(false);
            return report is null ? null : $"{report.BootId} {report.Boot}";
        }
        catch (Exception fault) when (fault is HttpRequestException or JsonException || (fault is TaskCanceledException && !cancellation.IsCancellationRequested))
        {
            return null;
        }
    }

    private async Task TellAsync(HttpClient http, CancellationToken cancellation)
    {
        if (_untold is not { } silence)
        {
            return;
        }

        try
        {
            var report = new AlarmReport((int)Math.Ceiling(silence.TotalSeconds));
            using var answer = await http.PostAsJsonAsync(new Uri(options.Beat, "/alarm"), report, cancellation).ConfigureAwait(false);
            _untold = answer.IsSuccessStatusCode ? null : silence;
        }
        catch (Exception fault) when (fault is HttpRequestException || (fault is TaskCanceledException && !cancellation.IsCancellationRequested))
        {
            // Told after the next look.
        }
    }

    private bool IsGone()
    {
        if (options.ProcessId is not { } id)
        {
            return false;
        }

        try
        {
            using var process = Process.GetProcessById(id);
            return process.HasExited;
        }
        catch (ArgumentException)
        {
            return true;
        }
    }
}
