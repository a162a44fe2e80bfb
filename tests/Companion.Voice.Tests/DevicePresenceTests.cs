using Companion.Domain.Time;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests;

public sealed class DevicePresenceTests
{
    private readonly ManualClock clock = new();
    private readonly RecordingInbox inbox = new();
    private readonly DevicePresence presence;

    public DevicePresenceTests() => presence = new DevicePresence("microphone", Ticks.OfMilliseconds(500), inbox, clock);

    [Fact]
    public void A_loss_is_told_at_once_and_once_and_a_return_when_it_has_lasted()
    {
        presence.Bad("Gone.");
        presence.Bad("Still gone.");
        Assert.Equal("Gone.", inbox.Notices.Single().Detail);
        presence.Good();
        clock.Advance(TimeSpan.FromMilliseconds(400));
        presence.Unclear();
        presence.Good();
        clock.Advance(TimeSpan.FromMilliseconds(499));
        presence.Good();
        Assert.Single(inbox.Notices);
        clock.Advance(TimeSpan.FromMilliseconds(1));
        presence.Good();
        Assert.True(inbox.Notices[1].Present);
    }

    [Fact]
    public void A_device_that_comes_and_goes_for_a_minute_is_told_of_four_times()
    {
        for (var n = 0; n < 600; n++)
        {
            clock.Advance(TimeSpan.FromMilliseconds(100));
            if (n % 20 < 3)
            {
                presence.Bad("Gone.");
            }
            else
            {
                presence.Good();
            }
        }

        for (var n = 0; n < 60; n++)
        {
            clock.Advance(TimeSpan.FromMilliseconds(100));
            presence.Good();
        }

        Assert.Equal([false, true, false, true], inbox.Notices.Select(notice => notice.Present));
        Assert.Contains("comes and goes", inbox.Notices[2].Detail);
    }
}
