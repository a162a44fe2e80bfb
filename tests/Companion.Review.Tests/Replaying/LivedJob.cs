using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.TestKit;
using Companion.TestKit.Walking;

namespace Companion.Review.Tests.Replaying;

/// <summary>A job that the real engine lived, and what its views could see after every turn.</summary>
internal sealed class LivedJob : IWalkedJob
{
    private readonly ManualClock _clock = new();
    private EngineBench _bench;

    private LivedJob() => _bench = Begin(new MemoryJournal());

    public Job? Job => _bench.Job;

    public DemoTime Time => _clock.Time;

    /// <summary>The first snapshot of every sequence: what stood on the screen right after that entry.</summary>
    public Dictionary<long, Snapshot> Seen { get; } = [];

    public IReadOnlyList<JournalEntry> Entries => _bench.Journal.Read("job-1");

    /// <summary>Lives a random job.</summary>
    public static LivedJob Walk(int seed, int chaos, int steps)
    {
        var job = new LivedJob();
        job.Open();
        new Walker(job, chaos, new Random(seed)).Walk(steps);
        return job;
    }

    public RecordedJob Record() => RecordedJob.Of("job-1", Entries);

    public void Pass(Ticks span) => Time.Pass(span);

    public void Do(Command command)
    {
        if (command is DeviceChanged device)
        {
            // As a driver brings it: the engine keeps what is lost, and makes the command itself.
            _bench.Engine.Post(new DeviceNotice(device.Which, device.Present, device.Reason));
            _bench.Engine.DrainAsync().GetAwaiter().GetResult();
        }
        else
        {
            _bench.DoAsync(command).GetAwaiter().GetResult();
        }
    }

    public Answer Answer(Phrase phrase, string? number) => _bench.Answer(phrase, number) with
    {
        Sheet = Job?.Sheet is null ? new OfferedSheet(DemoSheets.Van(), "digest-of-the-van") : null,
    };

    public void Open() => Do(new OpenJob("job-1", "crew-4", "Ines", "Marit", false, default, default, DemoKit.TwoTesters(), DemoTime.Start) { Place = "Quarry road, marker 7" });

    public void Restart()
    {
        _bench = Begin(_bench.Journal.Reopen());
        _bench.Engine.DrainAsync().GetAwaiter().GetResult();
    }

    private EngineBench Begin(MemoryJournal journal)
    {
        var bench = new EngineBench(journal, _clock);
        bench.Engine.Changed += snapshot =>
        {
            if (snapshot.Job is { } job)
            {
                Seen.TryAdd(job.Sequence, snapshot);
            }
        };
        bench.Engine.Start();
        return bench;
    }
}
