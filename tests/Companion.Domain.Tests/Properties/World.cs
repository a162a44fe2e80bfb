using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;
using Companion.TestKit;
using Companion.TestKit.Judging;
using Companion.TestKit.Walking;

namespace Companion.Domain.Tests.Properties;

/// <summary>The rules, the clocks, and a log of everything, with the test's own measure of running time.</summary>
internal sealed class World(Sheet sheet) : IWalkedJob
{
    private int _draw;

    public Sheet Sheet { get; } = sheet;

    public DemoTime Time { get; } = new();

    public CheckInPolicy? Watch { get; init; }

    public Ticks Running { get; private set; }

    public Job? Job { get; private set; }

    public List<Witnessed> Log { get; } = [];

    public List<Turned> Turns { get; } = [];

    public void Pass(Ticks span)
    {
        Time.Pass(span);
        Running += span;
    }

    public void Open() => Open(false, "Marit");

    public void Open(bool rehearsal, string? second) => Do(new OpenJob(
        "job-1", "crew-4", "Ines", second, rehearsal, ExposurePolicy.SecondPerson, default, DemoKit.TwoTesters(), DemoTime.Start)
    {
        // Alone a job does not come far: there is time for the arrival.
        Arrival = second is null ? DemoArrival.Short() : null,
        Watch = Watch,
    });

    public void Restart() => Do(new Restarted());

    void IWalkedJob.Do(Command command) => Do(command);

    public Decision Do(Command command)
    {
        var before = Job;
        var moment = Time.Now;
        var decision = Decide.On(Job, command, moment, unchecked(_draw = (_draw * 1103515245) + 12345));
        var logBefore = Log.Count;
        foreach (var happened in decision.Events)
        {
            var sequence = (Job?.Sequence ?? 0) + 1;
            Log.Add(new Witnessed(sequence, happened, moment, Running));
            Job = Evolve.Apply(Job, happened, "job-1", sequence, moment with { Awake = Ticks.Zero });
        }

        Turns.Add(new Turned(command, decision, moment, logBefore, before, Job));
        return decision;
    }

    /// <summary>An answer that begins now to the question that is open now.</summary>
    public Answer Answer(Phrase phrase, string? number) => new()
    {
        Question = Job?.Question?.Sequence ?? 0,
        Began = Time.Now,
        By = By.Voice,
        Phrase = phrase,
        Number = number,
        Sheet = Job?.Sheet is null ? new OfferedSheet(Sheet, $"digest-{Sheet.Id}") : null,
    };
}
