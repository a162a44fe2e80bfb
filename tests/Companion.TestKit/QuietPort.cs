using System.Net;
using System.Net.Sockets;

namespace Companion.TestKit;

/// <summary>
/// Ports of this machine that stay free between two starts on the same one. A port that the system chose (port 0) is not kept once it is given
/// up: whoever asks for any port next, a client's connection included, may get it. These lie below all that the system chooses from (32768 and
/// above on Linux), and each is given once in a process. Callable from any thread.
/// </summary>
public static class QuietPort
{
    /// <summary>The lowest that is given.</summary>
    public const int Lowest = 20_001;

    /// <summary>The highest that is given.</summary>
    public const int Highest = 32_000;

    private const int Count = Highest - Lowest + 1;

    /// <summary>Processes of neighbouring ids, as test projects that run at once are, begin so many ports apart.</summary>
    private const int Stride = 389;

    private static int _given = -1;

    /// <summary>One that was not given before and that nobody uses now.</summary>
    /// <param name="isFree">Says whether nobody uses it; null asks the machine.</param>
    /// <exception cref="InvalidOperationException">Every one was given or is in use.</exception>
    public static int Next(Func<int, bool>? isFree = null)
    {
        var first = (int)((long)Environment.ProcessId * Stride % Count);
        for (int given; (given = Interlocked.Increment(ref _given)) < Count;)
        {
            var port = Lowest + ((first + given) % Count);
            if ((isFree ?? IsFree)(port))
            {
                return port;
            }
        }

        throw new InvalidOperationException("No port is left.");
    }

    /// <summary>True when nobody listens on it on the loopback address.</summary>
    /// <param name="port">The port.</param>
    public static bool IsFree(int port)
    {
        try
        {
            using var listener = new TcpListener(IPAddress.Loopback, port);
            listener.Start();
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
