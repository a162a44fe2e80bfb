using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Engine.Codec;
using Companion.Review;
using Companion.TestKit;
using Companion.TestKit.Walking;

namespace Companion.Papers.Tests;

/// <summary>Records of jobs on the bench, with links, as a journal gives them.</summary>
internal static class DemoRecords
{
    /// <summary>When papers of tests are made: within the re-test time of a bench's job.</summary>
    public static DateTimeOffset SoonAfter(RecordedJob record) => record.Entries[^1].Entry.Time.AddMinutes(1);

    /// <summary>A record of what a bench recorded.</summary>
    public static RecordedJob Of(JobBench bench, StoreKind kind = StoreKind.Real, bool texts = true)
    {
        var journal = new MemoryJournal(kind);
        foreach (var recorded in bench.Log)
        {
            _ = journal.AppendAsync([EventCodec.Draft("job-1", recorded.Event, recorded.Moment)]).AsTask().GetAwaiter().GetResult();
        }

        if (!texts)
        {
            journal.EraseSealed();
        }

        return RecordedJob.Of("job-1", journal.All);
    }

    /// <summary>A job whose vehicle is isolated, and on which people work.</summary>
    public static JobBench Cleared() => new JobBench().Open().Until(NeedKind.Working);

    /// <summary>The same, handed over with the locks on it.</summary>
    public static JobBench HandedOver()
    {
        var bench = Cleared();
        bench.Claim(Phrase.HandOver);
        return bench;
    }

    /// <summary>A random job.</summary>
    public static RecordedJob Walked(int seed, int chaos, int steps = 120)
    {
        var world = new BenchWorld();
        world.Open();
        new Walker(world, chaos, new Random(seed)).Walk(steps);
        return Of(world.Bench);
    }
}
