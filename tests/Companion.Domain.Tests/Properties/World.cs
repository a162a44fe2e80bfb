using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Properties;

/// <summary>The rules, the clocks, and a log of everything, with the test's own measure of running time.</summary>
internal sealed class World(Sheet sheet)
{
    private int _draw;

    public Sheet Sheet { get; } = sheet;

    public DemoTime Time { get; } = new();

    public Ticks Running { get; private set; }

    public Job? Job { get; private set; }

    public List<Witnessed> Log { get; } = [];

    public List<Turned> Turns { get; } = [];

    public void Pass(Ticks span)
    {
        Time.Pass(span);
        Running += span;
    }

    public void Open(bool rehearsal = false, string? second = "Marit") => Do(new OpenJob(
        "job-1", "crew-4", "Ines", second, rehearsal, ExposurePolicy.SecondPerson, default, TwoTesters(), DemoTime.Start));

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

    /// <summary>The second tester indicates from 3 V, the first from 6 V.</summary>
    private static System.Collections.Immutable.ImmutableArray<KitItem> TwoTesters() =>
        [.. DemoKit.Complete().Select(item => item.Id == DemoKit.SecondTester ? item with { LowestDc = Domain.Electrical.Volts.Of(3) } : item)];
}
