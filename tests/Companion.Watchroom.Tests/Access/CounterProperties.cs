using Companion.Watchroom.Access;
using CsCheck;

namespace Companion.Watchroom.Tests.Access;

/// <summary>No counter is ever taken twice, whatever is sent and however often the watch room is started anew.</summary>
public sealed class CounterProperties
{
    private const int Runs = 60;

    [Fact]
    public void What_was_taken_once_is_never_taken_again_over_any_restarts() =>
        Gen.Select(Gen.Long[1, 5000], Gen.Bool, (counter, restart) => (Counter: counter, Restart: restart)).Array[1, 40].Sample(
            steps =>
            {
                var store = Directory.CreateTempSubdirectory("companion-counters-").FullName;
                try
                {
                    var counters = new Counters(store);
                    long highest = 0;
                    foreach (var (counter, restart) in steps)
                    {
                        counters = restart ? new Counters(store) : counters;
                        var least = counters.Take("tablet-1", "/uplink/beat", counter);
                        if (least is null)
                        {
                            Assert.True(counter > highest);
                            highest = counter;
                        }
                        else
                        {
                            // What is answered as the least is above all that was taken, and would be taken.
                            Assert.True(least > counter && least > highest);
                        }
                    }

                    var next = counters.Take("tablet-1", "/uplink/beat", highest);
                    Assert.True(highest == 0 || next is not null);
                    Assert.True(next is null || counters.Take("tablet-1", "/uplink/beat", next.Value) is null);
                }
                finally
                {
                    Directory.Delete(store, recursive: true);
                }
            },
            iter: Runs, threads: 1);

    // I16. Went wrong: with the disk full a beat was refused before anybody looked into it, and with it a call for help.
    [Fact]
    public void A_disk_that_takes_nothing_keeps_no_request_out_and_none_is_taken_twice()
    {
        var store = Directory.CreateTempSubdirectory("companion-counters-").FullName;
        var inTheWay = Directory.CreateDirectory(Path.Combine(store, "counters.json.new"));
        var counters = new Counters(store);
        Assert.Null(counters.Take("tablet-1", "/uplink/beat", 1));
        Assert.Null(counters.Take("tablet-1", "/uplink/beat", 2));
        Assert.Equal(3, counters.Take("tablet-1", "/uplink/beat", 2));
        Assert.False(File.Exists(Path.Combine(store, "counters.json")));
        inTheWay.Delete();
        Directory.Delete(store, recursive: true);
    }

    [Fact]
    public void Beats_cost_no_write_each()
    {
        var store = Directory.CreateTempSubdirectory("companion-counters-").FullName;
        var counters = new Counters(store);
        Assert.Null(counters.Take("tablet-1", "/uplink/beat", 1));
        var written = File.GetLastWriteTimeUtc(Path.Combine(store, "counters.json"));
        File.SetLastWriteTimeUtc(Path.Combine(store, "counters.json"), written = written.AddDays(-1));

        for (var counter = 2; counter < Counters.Block; counter++)
        {
            Assert.Null(counters.Take("tablet-1", "/uplink/beat", counter));
        }

        Assert.Equal(written, File.GetLastWriteTimeUtc(Path.Combine(store, "counters.json")));
        Directory.Delete(store, recursive: true);
    }
}
