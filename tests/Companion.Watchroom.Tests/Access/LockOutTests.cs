using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Watchroom.Access;

namespace Companion.Watchroom.Tests.Access;

/// <summary>Wrong passwords count for as long as they must, whatever happens to the program and the clock.</summary>
public sealed class LockOutTests : IDisposable
{
    private const string Name = "Runa Holt";
    private readonly string store = Directory.CreateTempSubdirectory("companion-lockouts-").FullName;
    private readonly Clock clock = new();
    private LockOuts lockOuts;

    public LockOutTests() => lockOuts = new LockOuts(store, clock);

    public void Dispose() => Directory.Delete(store, recursive: true);

    [Fact]
    public void A_restart_forgets_no_wrong_password()
    {
        Fail(People.MostFailures - 1);
        Restart();
        Fail(1);
        Restart();

        Assert.False(SignIn());
        clock.Pass(People.LockOut - TimeSpan.FromSeconds(1));
        Assert.False(SignIn());
        clock.Pass(TimeSpan.FromSeconds(1));
        Assert.True(SignIn());
    }

    [Fact]
    public void The_right_password_clears_the_count_for_good()
    {
        Fail(People.MostFailures - 1);
        Assert.True(SignIn());
        Restart();
        Fail(People.MostFailures - 1);
        Assert.True(SignIn());
    }

    [Theory]
    [InlineData(-400)]
    [InlineData(400)]
    public void Setting_the_wall_clock_neither_shortens_nor_lengthens_a_lock_out(int days)
    {
        Fail(People.MostFailures);
        clock.Wall = clock.Wall.AddDays(days);
        Restart();

        Assert.False(SignIn());
        clock.Pass(People.LockOut);
        Assert.True(SignIn());
    }

    // How long the machine was off is not known: the time before counts for nothing, and the time after counts once.
    [Fact]
    public void After_a_reboot_a_lock_out_begins_again_in_full_and_ends()
    {
        clock.Pass(TimeSpan.FromDays(30));
        Fail(People.MostFailures);
        clock.Reboot();
        Restart();

        Assert.False(SignIn());
        clock.Pass(People.LockOut - TimeSpan.FromSeconds(1));
        Assert.False(SignIn());
        clock.Pass(TimeSpan.FromSeconds(1));
        Assert.True(SignIn());
    }

    [Fact]
    public void An_attempt_during_a_lock_out_does_not_lengthen_it()
    {
        Fail(People.MostFailures);
        clock.Pass(People.LockOut - TimeSpan.FromSeconds(1));
        Fail(3);
        clock.Pass(TimeSpan.FromSeconds(1));
        Assert.True(SignIn());
    }

    // Otherwise a name that exists would be one that is written down.
    [Fact]
    public void A_name_that_nobody_has_is_counted_and_locked_in_the_same_way_and_stands_in_the_file_as_a_hash_only()
    {
        for (var n = 0; n < People.MostFailures; n++)
        {
            lockOuts.Admit("my secret password", isPerson: false, isRight: false);
        }

        var text = File.ReadAllText(Path.Combine(store, "lockouts.json"));
        Assert.DoesNotContain("secret", text, StringComparison.OrdinalIgnoreCase);
        Assert.Contains($"\"failures\": {People.MostFailures}", text, StringComparison.Ordinal);
        Assert.DoesNotContain("\"until\": null", text, StringComparison.Ordinal);

        // Somebody is given that name: they are locked out as anybody would be.
        Assert.False(lockOuts.Admit("my secret password", isPerson: true, isRight: true));
    }

    [Fact]
    public void Strangers_neither_fill_the_file_nor_push_anybody_out_of_it()
    {
        Fail(People.MostFailures);
        for (var n = 0; n < LockOuts.MostStrangers + 20; n++)
        {
            lockOuts.Admit($"stranger {n}", isPerson: false, isRight: false);
        }

        Restart();
        Assert.False(SignIn());
        Assert.Equal(LockOuts.MostStrangers + 1, File.ReadAllText(Path.Combine(store, "lockouts.json")).Split("\"key\"").Length - 1);
    }

    [Fact]
    public void A_file_that_cannot_be_used_is_told_and_wrong_passwords_count_in_memory()
    {
        File.WriteAllText(Path.Combine(store, "lockouts.json"), "broken");
        Restart();
        Assert.Contains("counted in memory only", lockOuts.Fault, StringComparison.Ordinal);

        Fail(People.MostFailures);
        Assert.False(SignIn());
        clock.Pass(People.LockOut);
        Assert.True(SignIn());
    }

    private void Restart() => lockOuts = new LockOuts(store, clock);

    private bool SignIn() => lockOuts.Admit(Name.ToLowerInvariant(), isPerson: true, isRight: true);

    private void Fail(int times)
    {
        for (var n = 0; n < times; n++)
        {
            Assert.False(lockOuts.Admit(Name, isPerson: true, isRight: false));
        }
    }

    private sealed class Clock : IClock
    {
        private int boots = 1;
        private long ticks;

        public DateTimeOffset Wall { get; set; } = new(2026, 11, 26, 6, 0, 0, TimeSpan.Zero);

        public Moment Now() => new(Wall, $"boot-{boots}", new Ticks(ticks * 100), new Ticks(ticks * 100));

        public void Pass(TimeSpan span)
        {
            ticks += span.Ticks;
            Wall += span;
        }

        public void Reboot()
        {
            boots++;
            ticks = 0;
        }
    }
}
