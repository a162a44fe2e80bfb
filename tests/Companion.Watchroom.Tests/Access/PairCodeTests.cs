using System.Net;
using Companion.Watchroom.Access;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Tests.Watching.Support;

namespace Companion.Watchroom.Tests.Access;

/// <summary>One-time codes, and what they let in.</summary>
public sealed class PairCodeTests : IDisposable
{
    private readonly string store = Directory.CreateTempSubdirectory("companion-codes-").FullName;
    private readonly SettableTime time = new();

    [Fact]
    public void A_code_has_eight_digits_works_once_and_is_not_kept_readable()
    {
        var codes = new PairCodes(store, time);
        var code = codes.New();

        Assert.Matches("^[0-9]{8}$", code);
        Assert.DoesNotContain(code, File.ReadAllText(Path.Combine(store, "paircodes.json")), StringComparison.Ordinal);
        Assert.True(new PairCodes(store, time).Use(code));
        Assert.False(codes.Use(code));
    }

    [Fact]
    public void A_code_is_too_old_after_ten_minutes()
    {
        var codes = new PairCodes(store, time);
        var code = codes.New();
        time.Seconds += PairCodes.Lasts.TotalSeconds;

        Assert.False(codes.Use(code));
    }

    [Fact]
    public void Ten_wrong_codes_withdraw_every_open_one()
    {
        var codes = new PairCodes(store, time);
        var code = codes.New();
        for (var n = 0; n < PairCodes.MostFailures; n++)
        {
            Assert.False(codes.Use("wrong"));
        }

        Assert.False(codes.Use(code));
    }

    [Fact]
    public async Task A_tablet_whose_answer_was_lost_asks_again_and_another_key_does_not_take_its_place()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        using (var again = await tablet.IntroduceAsync("used up"))
        {
            Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        }

        using var impostor = new FakeTablet(rig, "van 12") { Tablet = tablet.Tablet };
        using (var refused = await impostor.IntroduceAsync(rig.Services.Codes.New()))
        {
            Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        }

        // Once revoked it comes back under its name, so that its record goes on.
        rig.Services.Devices.Revoke(tablet.Device);
        await impostor.PairAsync(rig.Services.Codes.New());
        Assert.Equal(tablet.Device, impostor.Device);
    }

    public void Dispose() => Directory.Delete(store, recursive: true);
}
