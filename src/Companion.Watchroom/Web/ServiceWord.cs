using System.Net.Sockets;
using System.Text;

namespace Companion.Watchroom.Web;

/// <summary>
/// Tells the service manager that started the watch room that it is up, and again and again that deadlines are being looked at, in the words of sd_notify(3):
/// when the words stop for WatchdogSec, systemd starts the watch room anew. Says nothing where no manager asks.
/// </summary>
/// <param name="socket">The manager's datagram socket, as NOTIFY_SOCKET names it; null when there is none.</param>
/// <param name="isWatching">False when deadlines are not being looked at.</param>
/// <param name="every">From one word to the next.</param>
internal sealed class ServiceWord(string? socket, Func<bool> isWatching, TimeSpan every, IHostApplicationLifetime lifetime) : BackgroundService
{
    /// <summary>The environment variable that names the socket.</summary>
    public const string Variable = "NOTIFY_SOCKET";

    /// <summary>Short against any sensible WatchdogSec.</summary>
    public static readonly TimeSpan Usual = TimeSpan.FromSeconds(5);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (string.IsNullOrEmpty(socket))
        {
            return;
        }

        using var started = lifetime.ApplicationStarted.Register(() => Send("READY=1"));
        using var timer = new PeriodicTimer(every);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken).ConfigureAwait(false))
            {
                if (isWatching())
                {
                    Send("WATCHDOG=1");
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The watch room stops.
        }
    }

    private void Send(string word)
    {
        try
        {
            using var sender = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);

            // "@" stands for the zero byte of a name that is in no folder.
            sender.SendTo(Encoding.ASCII.GetBytes(word), new UnixDomainSocketEndPoint(socket![0] == '@' ? $"\0{socket[1..]}" : socket));
        }
        catch (SocketException)
        {
            // A manager that does not listen ends the watch room by itself, or is gone: the watch goes on.
        }
    }
}
