using System.Net;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Access;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Web;

/// <summary>What the pages show, to whom, and what they refuse.</summary>
public sealed class PageTests
{
    [Fact]
    public async Task Nobody_sees_the_board_without_signing_in()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = new Visitor(rig);

        using var page = await visitor.GetAsync("/");
        using var feed = await visitor.GetAsync("/feed", "text/event-stream");

        Assert.Equal((HttpStatusCode.Redirect, "/login"), (page.StatusCode, page.Headers.Location!.ToString()));
        Assert.Equal(HttpStatusCode.Unauthorized, feed.StatusCode);
    }

    [Fact]
    public async Task The_session_cookie_goes_to_no_script_no_other_site_and_no_plain_connection()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = new Visitor(rig);

        using var answer = await visitor.SignInAsync("Runa Holt", WatchroomRig.Password);

        var cookie = answer.Headers.GetValues("Set-Cookie").Single(text => text.StartsWith("__Host-companion=", StringComparison.Ordinal));
        Assert.All(["path=/", "secure", "httponly", "samesite=strict"], part => Assert.Contains(part, cookie, StringComparison.OrdinalIgnoreCase));
        Assert.DoesNotContain("domain=", cookie, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_copied_cookie_opens_nothing_after_signing_out_and_its_feed_ends()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = await Visitor.SignedInAsync(rig);
        using var thief = new Visitor(rig);
        var stolen = visitor.Session;
        using (var before = await thief.GetAsync("/board", cookie: stolen))
        {
            Assert.Equal(HttpStatusCode.OK, before.StatusCode);
        }

        using var feed = await thief.GetAsync("/feed", "text/event-stream", stolen);
        (await visitor.PostAsync("/", "/logout")).Dispose();

        using var after = await thief.GetAsync("/board", "text/plain", stolen);
        Assert.Equal(HttpStatusCode.Unauthorized, after.StatusCode);
        await feed.Content.ReadAsStringAsync().WaitAsync(TimeSpan.FromSeconds(30));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_removed_person_or_a_changed_password_ends_the_sessions(bool removed)
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = await Visitor.SignedInAsync(rig);

        // As the command line does, beside the service.
        var people = new People(rig.Store, TimeProvider.System);
        Assert.True(removed ? people.Remove("Runa Holt") : people.Set("Runa Holt", Role.TeamLead, "five other plain words now") is null);

        using var page = await visitor.GetAsync("/board", "text/plain");
        Assert.Equal(HttpStatusCode.Unauthorized, page.StatusCode);
    }

    [Fact]
    public async Task Sessions_outlive_a_restart_so_that_a_board_on_the_wall_goes_on()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = await Visitor.SignedInAsync(rig);
        await rig.RestartAsync(samePort: true);

        using var page = await visitor.GetAsync("/board", "text/plain");
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
    }

    [Fact]
    public async Task Five_wrong_passwords_lock_a_person_out_over_a_restart_and_an_open_session_goes_on()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = await Visitor.SignedInAsync(rig);
        using var guesser = new Visitor(rig);
        for (var n = 0; n < People.MostFailures; n++)
        {
            using var wrong = await guesser.SignInAsync("Runa Holt", $"guess number {n} of many");
            Assert.Equal(HttpStatusCode.Unauthorized, wrong.StatusCode);
        }

        await rig.RestartAsync();
        using var after = new Visitor(rig);
        using var right = await after.SignInAsync("Runa Holt", WatchroomRig.Password);
        Assert.Equal(HttpStatusCode.Unauthorized, right.StatusCode);
        using var open = await after.GetAsync("/", cookie: visitor.Session);
        Assert.Equal(HttpStatusCode.OK, open.StatusCode);
        await WatchroomRig.UntilAsync(() => rig.Audit().Any(entry => entry.Contains("\"kind\":\"signin\"", StringComparison.Ordinal)), "the audit chain has it");
    }

    // The audit entry waited for the disk, and so did whoever had to see who is out.
    [Fact]
    public async Task A_journal_that_hangs_keeps_nobody_from_signing_in_and_out()
    {
        using var disk = new FailingDisk();
        await using var rig = await WatchroomRig.StartAsync(disk);
        disk.Hang();
        try
        {
            using var visitor = await Visitor.SignedInAsync(rig).WaitAsync(TimeSpan.FromSeconds(60));
            await visitor.ReadAsync("/board").WaitAsync(TimeSpan.FromSeconds(60));
            using var gone = await visitor.PostAsync("/", "/logout").WaitAsync(TimeSpan.FromSeconds(60));
            Assert.Equal(HttpStatusCode.Redirect, gone.StatusCode);
        }
        finally
        {
            disk.GoOn();
        }

        // It is written when the disk goes on.
        await WatchroomRig.UntilAsync(
            () => rig.Audit() is var entries && entries.Any(entry => entry.StartsWith("session.begun", StringComparison.Ordinal)) && entries.Any(entry => entry.StartsWith("session.ended", StringComparison.Ordinal)),
            "the audit chain has both");
    }

    [Fact]
    public async Task A_form_without_its_token_does_nothing()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        using var visitor = await Visitor.SignedInAsync(rig);
        using var administrator = await Visitor.SignedInAsync(rig, "Petra Ash");

        using var take = await visitor.PostWithoutTokenAsync("/alerts/take", ("alert", rig.App.Keeper.View.Alerts[0].Id), ("note", "forged"));
        using var code = await administrator.PostWithoutTokenAsync("/devices/code");
        using var logout = await visitor.PostWithoutTokenAsync("/logout");

        Assert.All([take, code, logout], answer => Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode));
        Assert.Null(rig.App.Keeper.View.Alerts[0].Taken);
        await visitor.ReadAsync("/");
    }

    // I11: an alert ends only by a person's act, and their name and note stand beside it.
    [Fact]
    public async Task A_team_lead_takes_an_alert_with_a_note_and_the_tablet_learns_it()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        using var visitor = await Visitor.SignedInAsync(rig);

        (await visitor.PostAsync("/", "/alerts/take", ("alert", rig.App.Keeper.View.Alerts[0].Id), ("note", "I ring <b>now</b>"))).Dispose();

        Assert.Contains("Taken by Runa Holt", await visitor.ReadAsync("/board"), StringComparison.Ordinal);
        Assert.Contains("I ring &lt;b&gt;now&lt;/b&gt;", await visitor.ReadAsync("/board"), StringComparison.Ordinal);
        Assert.Equal(new TakenCall("job-7/9", "Runa Holt"), Assert.Single((await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help))).Taken));
    }

    [Fact]
    public async Task A_technician_may_look_but_neither_take_nor_see_a_quiet_alert()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Quiet));
        using var technician = await Visitor.SignedInAsync(rig, "Maren Oake");
        using var lead = await Visitor.SignedInAsync(rig);

        Assert.DoesNotContain("Quiet", await technician.ReadAsync("/board"), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Do not ring the technician", await lead.ReadAsync("/board"), StringComparison.Ordinal);
        using var take = await technician.PostAsync("/", "/alerts/take", ("alert", rig.App.Keeper.View.Alerts[0].Id), ("note", ""));
        using var devices = await technician.GetAsync("/devices");
        Assert.All([take, devices], answer => Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode));
    }

    [Fact]
    public async Task A_script_in_what_a_tablet_sends_is_shown_as_text_and_could_not_run()
    {
        const string script = "<script>alert(1)</script>";
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync($"van {script}");
        var beat = FakeTablet.Calling(CallKind.Help) with
        {
            Technician = script, Place = $"\"><img src=x onerror=alert(1)>{script}", Phase = script, Where = new Whereabouts("javascript:alert(1)", "0", 5, 0),
            Waits = [new RunningWait(script, 5)],
        };
        await tablet.BeatAsync(beat);
        using var visitor = await Visitor.SignedInAsync(rig);

        using var answer = await visitor.GetAsync("/");
        var page = await answer.Content.ReadAsStringAsync();

        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt;", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script>alert", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<img", page, StringComparison.Ordinal);
        Assert.DoesNotContain("href=\"javascript", page, StringComparison.Ordinal);
        var policy = answer.Headers.GetValues("Content-Security-Policy").Single();
        Assert.Contains("script-src 'self';", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/../people.json")]
    [InlineData("/%2e%2e/people.json")]
    [InlineData("/..%2fpeople.json")]
    [InlineData("/people.json")]
    [InlineData("/received/x")]
    public async Task No_address_names_a_file_of_the_store(string path)
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = await Visitor.SignedInAsync(rig, "Petra Ash");

        using var answer = await visitor.GetAsync(path);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task The_feed_tells_a_change_and_then_that_the_watch_room_is_alive()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = await Visitor.SignedInAsync(rig);
        using var feed = await visitor.GetAsync("/feed", "text/event-stream");
        using var reader = new StreamReader(await feed.Content.ReadAsStreamAsync());

        Assert.Equal("event: change", await LineAsync(reader, "event: "));
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        Assert.Equal("event: change", await LineAsync(reader, "event: change"));
        Assert.Equal("event: alive", await LineAsync(reader, "event: alive"));
        Assert.Equal(AlertKind.Help, Assert.Single(rig.App.Keeper.View.Alerts).Kind);
    }

    [Fact]
    public async Task A_feed_that_comes_back_hears_of_a_change_only_when_it_missed_one()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var visitor = await Visitor.SignedInAsync(rig);
        Assert.Equal("event: change", (await FirstAsync("another watch room-1")).Event);

        // The board may change once more while the watch room settles.
        for (var (last, attempt) = ((await FirstAsync(null)).Version, 0); ; attempt++)
        {
            var (first, version) = await FirstAsync(last);
            if (first == "event: alive")
            {
                Assert.Equal(last, version);
                return;
            }

            Assert.True(attempt < 20 && version != last, "Nothing changed, and yet a change was told.");
            last = version;
        }

        async Task<(string Event, string Version)> FirstAsync(string? last)
        {
            using var feed = await visitor.GetAsync("/feed", "text/event-stream", lastEvent: last);
            using var reader = new StreamReader(await feed.Content.ReadAsStreamAsync());
            return (await LineAsync(reader, "event: "), (await LineAsync(reader, "id: "))["id: ".Length..]);
        }
    }

    private static async Task<string> LineAsync(StreamReader reader, string beginning)
    {
        while (true)
        {
            var line = await reader.ReadLineAsync().WaitAsync(TimeSpan.FromSeconds(30));
            if (line!.StartsWith(beginning, StringComparison.Ordinal))
            {
                return line;
            }
        }
    }
}
