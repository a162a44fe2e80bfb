using Microsoft.Extensions.Hosting;

namespace Companion.Tablet.Web;

/// <summary>One timer for all views: ten turns a second, one notice to each view per turn.</summary>
public sealed class ScreenTicker(TimeProvider time) : BackgroundService
{
    /// <summary>Between two turns.</summary>
    public static readonly TimeSpan Every = TimeSpan.FromMilliseconds(100);

    /// <summary>Raised every turn on the timer's thread; handlers return at once.</summary>
    public event Action? Turned;

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every, time);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken).ConfigureAwait(false))
            {
                Turned?.Invoke();
            }
        }
        catch (OperationCanceledException)
        {
            // The host stops; views show their cover by themselves.
        }
    }
}
