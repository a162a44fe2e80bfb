using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Domain.Reacting;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>An isolated vehicle never reads as a dead battery (I15).</summary>
public sealed class StaysLiveTests
{
    [Fact]
    public void What_is_proved_is_the_place_and_the_pack_is_named_as_live()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Claim(Phrase.HandOver);
        var said = Said(bench).ToList();

        // NTSB SR-20/01, as reported: a module of a pack can hold more than 60 V after the vehicle is isolated.
        Assert.Equal(3, said.Count(one => one.Of is DeadProved or WorkCleared));
        Assert.All(
            said.Where(one => one.Of is DeadProved or WorkCleared),
            one => Assert.Contains("Still live: both packs and the pack side of both plugs.", one.Text, StringComparison.Ordinal)); // the same
        Assert.All(said, one => Assert.DoesNotContain("energised", one.Text, StringComparison.OrdinalIgnoreCase)); // the same
        Assert.DoesNotContain("battery", bench.LastOf<JobHandedOver>().Reason, StringComparison.OrdinalIgnoreCase); // the same
    }

    private static IEnumerable<(JobEvent Of, string Text)> Said(JobBench bench)
    {
        Job? job = null;
        foreach (var entry in bench.Log)
        {
            job = Evolve.Apply(job, entry.Event, "job-1", entry.Sequence, entry.Moment);
            foreach (var say in React.To(job!, entry.Event, entry.Moment).OfType<Say>())
            {
                yield return (entry.Event, say.Text);
            }
        }
    }
}
