using Companion.Watchroom.Access;
using Companion.Watchroom.Tests.Watching.Support;

namespace Companion.Watchroom.Tests.Access;

/// <summary>How long somebody stays signed in. There is one limit, from the beginning: a board on the wall is looked at, not touched.</summary>
public sealed class SessionTests : IDisposable
{
    private const string Password = "four plain words here";
    private readonly string store = Directory.CreateTempSubdirectory("companion-sessions-").FullName;
    private readonly SettableTime time = new();
    private readonly People people;

    public SessionTests()
    {
        people = new People(store, time);
        Assert.Null(people.Set("Runa Holt", Role.TeamLead, Password));
    }

    public void Dispose() => Directory.Delete(store, recursive: true);

    [Fact]
    public void A_session_ends_after_fourteen_hours_however_much_it_is_used_and_a_restart_does_not_lengthen_it()
    {
        var sessions = new Sessions(store, people, time);
        var cookie = sessions.Begin(people.Find("Runa Holt")!);
        for (var hour = 1; hour < Sessions.Longest.TotalHours; hour++)
        {
            time.Seconds = hour * 3600;
            Assert.NotNull(sessions.Find(cookie));
        }

        sessions = new Sessions(store, people, time);
        time.Seconds = Sessions.Longest.TotalSeconds - 1;
        Assert.Equal("Runa Holt", sessions.Find(cookie)!.Name);
        time.Seconds = Sessions.Longest.TotalSeconds;
        Assert.Null(sessions.Find(cookie));
    }

    // One who signs in again and again would end everybody's sessions, and with them the boards on the walls.
    [Fact]
    public void Who_signs_in_too_often_ends_only_sessions_of_their_own()
    {
        Assert.Null(people.Set("Maren Oake", Role.Technician, Password));
        var sessions = new Sessions(store, people, time);
        var wall = sessions.Begin(people.Find("Runa Holt")!);
        var first = sessions.Begin(people.Find("Maren Oake")!);
        for (var n = 0; n < 250; n++)
        {
            _ = sessions.Begin(people.Find("Maren Oake")!);
        }

        Assert.NotNull(sessions.Find(wall));
        Assert.Null(sessions.Find(first));
    }

    // When the disk is full, somebody must be able to look at the board all the same.
    [Fact]
    public void A_disk_that_takes_nothing_keeps_nobody_from_the_board()
    {
        var sessions = new Sessions(store, people, time);
        var written = sessions.Begin(people.Find("Runa Holt")!);
        var left = sessions.Begin(people.Find("Runa Holt")!);
        Directory.CreateDirectory(Path.Combine(store, "sessions.json.new"));

        var cookie = sessions.Begin(people.Find("Runa Holt")!);
        Assert.Equal("Runa Holt", sessions.Find(cookie)!.Name);
        sessions.End(written);
        Assert.Null(sessions.Find(written));
        Assert.NotNull(sessions.Find(left));
        time.Seconds = Sessions.Longest.TotalSeconds;
        Assert.Null(sessions.Find(cookie));

        var other = sessions.Begin(people.Find("Runa Holt")!);
        sessions.End(other);
        Assert.Null(sessions.Find(other));
    }

    [Fact]
    public void A_new_session_lets_go_of_those_that_have_ended()
    {
        var sessions = new Sessions(store, people, time);
        _ = sessions.Begin(people.Find("Runa Holt")!);
        time.Seconds = Sessions.Longest.TotalSeconds + 1;
        _ = sessions.Begin(people.Find("Runa Holt")!);

        Assert.Single(File.ReadAllText(Path.Combine(store, "sessions.json")).Split("\"hash\"").Skip(1));
    }
}
