namespace Companion.Watchroom.Web;

/// <summary>Brings what the command line did meanwhile into the audit chain.</summary>
internal sealed class SpoolDrain(WatchroomServices services) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(1);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every);
        try
        {
            do
            {
                await DrainAsync().ConfigureAwait(false);
            }
            while (await timer.WaitForNextTickAsync(stoppingToken).ConfigureAwait(false));
        }
        catch (OperationCanceledException)
        {
            // What is left is found at the next start.
        }
    }

    private async Task DrainAsync()
    {
        try
        {
            await services.Acts.DrainAsync(services.Audit).ConfigureAwait(false);
        }
        catch (IOException)
        {
            // The acts stay in their file and are tried again; the watch goes on.
        }
    }
}
