namespace Companion.Watchroom.Retention;

/// <summary>Erases what is due: soon after the start, then once a day.</summary>
internal sealed class DailyRetention(RoomRetention retention, ILogger<DailyRetention> log) : BackgroundService
{
    /// <summary>The watch comes first: chains are read when it has long begun.</summary>
    private static readonly TimeSpan AfterStart = TimeSpan.FromMinutes(5);

    private static readonly TimeSpan Every = TimeSpan.FromDays(1);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            for (var pause = AfterStart; ; pause = Every)
            {
                await Task.Delay(pause, stoppingToken).ConfigureAwait(false);
                await RunAsync().ConfigureAwait(false);
            }
        }
        catch (OperationCanceledException)
        {
            // What is due is due tomorrow too.
        }
    }

    private async Task RunAsync()
    {
        try
        {
            await retention.RunAsync().ConfigureAwait(false);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or FormatException or Engine.Ports.StoreFaultException)
        {
            log.LogError(fault, "What is due could not be erased; it is tried again tomorrow.");
        }
    }
}
