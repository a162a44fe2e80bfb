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
                await services.Acts.DrainAsync(services.Audit).ConfigureAwait(false);
            }
            while (await timer.WaitForNextTickAsync(stoppingToken).ConfigureAwait(false));
        }
        catch (OperationCanceledException)
        {
            // What is left is found at the next start.
        }
    }
}
