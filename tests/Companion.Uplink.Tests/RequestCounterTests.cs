using CsCheck;

namespace Companion.Uplink.Tests;

/// <summary>A number is never used twice: a copy of an old request must be told from a new one.</summary>
public sealed class RequestCounterTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-counter-tests-").FullName;

    [Fact]
    public void Numbers_only_rise_however_often_the_tablet_dies() => Gen.Select(Gen.Int[0, 2500], Gen.Int[0, 4000]).Array[1, 8].Sample(
        lives =>
        {
            var path = Path.Combine(_folder, $"{Guid.NewGuid():n}.counter");
            var last = 0L;
            foreach (var (used, wanted) in lives)
            {
                // A new counter on the same file is a process that was killed at any moment.
                var counter = new RequestCounter(path);
                counter.AtLeast(wanted);
                for (var number = 0; number < used; number++)
                {
                    var next = counter.Next();
                    Assert.True(next > last && next >= wanted);
                    last = next;
                }
            }
        },
        iter: 40);

    [Fact]
    public void A_damaged_file_begins_anew_and_the_watch_room_says_where()
    {
        var path = Path.Combine(_folder, "damaged.counter");
        File.WriteAllText(path, "many");
        var counter = new RequestCounter(path);
        Assert.Equal(1, counter.Next());
        counter.AtLeast(7000);
        Assert.Equal(7000, counter.Next());
    }

    // The highest number of all would leave none to go on with, and the next would be negative.
    [Fact]
    public void A_number_that_leaves_none_after_it_is_not_obeyed()
    {
        var counter = new RequestCounter(Path.Combine(_folder, "highest.counter"));
        Assert.Equal(1, counter.Next());
        counter.AtLeast(long.MaxValue);
        Assert.Equal(2, counter.Next());
        counter.AtLeast(RequestCounter.Most);
        Assert.Equal(RequestCounter.Most, counter.Next());
    }

    public void Dispose() => Directory.Delete(_folder, true);
}
