using Companion.Tablet.Kiosk;

namespace Companion.Tablet.Tests;

public sealed class KioskTests
{
    private static readonly Uri Address = new("http://127.0.0.1:4000/?token=abc");

    [Fact]
    public void Without_a_display_there_is_no_window() => Assert.False(KioskLauncher.HasDisplay(_ => null));

    [Theory]
    [InlineData("DISPLAY")]
    [InlineData("WAYLAND_DISPLAY")]
    public void Either_kind_of_display_will_do(string name) => Assert.True(KioskLauncher.HasDisplay(asked => asked == name ? ":0" : null));

    [Fact]
    public void The_window_is_the_job_and_nothing_else()
    {
        var arguments = KioskLauncher.Arguments(Address, "/tmp/profile", privileged: false);

        Assert.Contains("--app=http://127.0.0.1:4000/?token=abc", arguments);
        Assert.Contains("--user-data-dir=/tmp/profile", arguments);
        Assert.Contains("--start-fullscreen", arguments);
        Assert.DoesNotContain("--no-sandbox", arguments);
        Assert.Contains("--no-sandbox", KioskLauncher.Arguments(Address, "/tmp/profile", privileged: true));
    }
}
