using System.Net;
using System.Net.Sockets;
using Companion.TestKit;

namespace Companion.Watchroom.Tests.Support;

/// <summary>A test that gives a port up and comes back to it must find it free, whatever other tests do meanwhile.</summary>
public sealed class QuietPortTests
{
    [Fact]
    public void A_port_is_given_once_and_lies_below_all_that_the_system_chooses_from()
    {
        var given = Enumerable.Range(0, 50).Select(_ => QuietPort.Next()).ToList();
        Assert.Equal(given.Count, given.Distinct().Count());
        Assert.All(given, port => Assert.InRange(port, QuietPort.Lowest, QuietPort.Highest));
        var lowest = int.Parse(File.ReadAllText("/proc/sys/net/ipv4/ip_local_port_range").Split('\t', ' ')[0], System.Globalization.CultureInfo.InvariantCulture);
        Assert.True(QuietPort.Highest < lowest, $"The system chooses from {lowest} on.");
    }

    [Fact]
    public void A_port_in_use_is_passed_over()
    {
        using var user = new TcpListener(IPAddress.Loopback, QuietPort.Next());
        user.Start();
        Assert.False(QuietPort.IsFree(((IPEndPoint)user.LocalEndpoint).Port));

        var asked = new List<int>();
        var port = QuietPort.Next(each =>
        {
            asked.Add(each);
            return asked.Count == 3;
        });
        Assert.Equal((3, asked[2]), (asked.Distinct().Count(), port));
    }
}
