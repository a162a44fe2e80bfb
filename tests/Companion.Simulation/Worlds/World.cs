using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Simulation.Checking;
using Companion.TestKit;
using Companion.TestKit.Judging;
using Companion.TestKit.Walking;

namespace Companion.Simulation.Worlds;

/// <summary>One simulated job: a tablet, a technician, and what breaks. Every step is followed by every check.</summary>
internal sealed class World : IWalkedJob
{
    private static readonly Ticks BetweenPulses = Ticks.OfSeconds(4);
    private static readonly Ticks BetweenReceipts = Ticks.OfSeconds(1);

    private readonly Plan _plan;
    private readonly Sheet _sheet;
    private readonly Judge _judge;
    private readonly Tablet _tablet;
    private readonly Walker _walker;
    private readonly Hands _hands;
    private readonly Faults _faults;
    private readonly Mishearing _ear;
    private bool _down;

    public World(Plan plan)
    {
        _plan = plan;
        _sheet = plan.Sheet < 0 ? DemoSheets.Van() : RandomSheet.Of(plan.Sheet);
        _judge = new Judge(_sheet);
        _tablet = new Tablet(_sheet, _judge, plan.Seed);
        _judge.Prompts.Now = _tablet.Clock.Now;
        _walker = new Walker(this, plan.Chaos, plan.Chance(-1, 0));
        _hands = new Hands(this, _tablet);
        _faults = new Faults(this, _tablet, _judge.Memory);
        _ear = new Mishearing(_tablet);
    }

    /// <inheritdoc/>
    public Job? Job => _tablet.Engine?.Snapshot.Job;

    /// <inheritdoc/>
    public DemoTime Time => _tablet.Clock.Time;

    /// <summary>Lives the whole plan; what happened is counted in <paramref name="tally"/>.</summary>
    /// <exception cref="InvariantBrokenException">An invariant does not hold; <see cref="Tally.Step"/> is the step that broke it.</exception>
    public string Live(Tally tally)
    {
        _faults.Tally = tally;
        StartAgain();
        Open();
        for (var step = 0; step < _plan.Steps && Job is { Ended: false } && !_judge.Memory.Damaged; step++)
        {
            tally.Step = step;
            if (!_plan.Skipped.Contains(step))
            {
                Step(step);
            }
        }

        tally.Entries += _judge.Entries;
        tally.Prompts += _judge.Prompts.Count;
        tally.Cleared += _judge.Memory.Acknowledged.Any(entry => entry.Type == "work.cleared") ? 1 : 0;
        return End();
    }

    /// <summary>Time passes, and the pulse goes on.</summary>
    public void Pass(Ticks span)
    {
        for (; span > BetweenPulses; span -= BetweenPulses)
        {
            Stand(BetweenPulses);
            if (_tablet.Engine is { } engine)
            {
                engine.Pulse();
                _tablet.Drain();
            }
        }

        Stand(span);
    }

    /// <summary>Time passes, and the loop stands still; the loudspeaker does not.</summary>
    public void Stand(Ticks span)
    {
        _judge.Running += span;
        for (; span > BetweenReceipts; span -= BetweenReceipts)
        {
            Time.Pass(BetweenReceipts);
            _tablet.Speaker.Play();
        }

        Time.Pass(span);
        _tablet.Speaker.Play();
    }

    /// <inheritdoc/>
    public void Do(Command command)
    {
        if (_tablet.Engine is not { } engine)
        {
            return;
        }

        if (command is Tick)
        {
            engine.Pulse();
        }
        else if (command is Answer { By: By.Voice } answer && _ear.Hear(answer) is { } hearing)
        {
            engine.Post(hearing);
        }
        else
        {
            engine.Post(command);
        }

        Settle();
        Warned(command);
    }

    /// <inheritdoc/>
    public Answer Answer(Phrase phrase, string? number) => new()
    {
        Question = Job?.Question?.Sequence ?? 0,
        Began = Time.Now,
        By = By.Voice,
        Phrase = phrase,
        Number = number,
        Sheet = Job?.Sheet is null ? new OfferedSheet(_sheet, $"digest-{_sheet.Id}-{_sheet.Edition}") : null,
    };

    /// <inheritdoc/>
    public void Open() => Do(new OpenJob(
        "job-1", "crew-4", "Ines", _plan.Seed % 7 == 0 ? null : "Marit", true, ExposurePolicy.SecondPerson, default, DemoKit.TwoTesters(), DemoTime.Start)
    {
        Place = "Quarry road, marker 7",
        Arrival = _plan.Seed % 5 == 2 ? DemoArrival.Short() : null,
    });

    /// <inheritdoc/>
    public void Restart()
    {
        _tablet.Kill();
        StartAgain();
    }

    /// <summary>Starts the app; a store that cannot be opened is tried again once its cause is mended.</summary>
    public void StartAgain()
    {
        _down = !_tablet.Start();
        if (_down)
        {
            _faults.Mend();
            _down = !_tablet.Start();
            Oracle.Claim(!_down || _judge.Memory.MayBeDamaged, $"I12: the store cannot be opened although nothing is wrong with the disk any more: {_judge.Refusal}");
        }

        Look();
    }

    /// <summary>The loop takes what waits, and every check is made.</summary>
    public void Settle()
    {
        _tablet.Drain();
        Look();
    }

    private void Step(int step)
    {
        if (_down)
        {
            return;
        }

        var chance = _plan.Chance(step, 1);
        _faults.Tally.Trace?.Invoke($"step {step}: {Job?.Question?.Need} {(_tablet.Engine?.Snapshot.Recording == true ? "recording" : "not recording")}");
        _ear.Chance = _plan.Chance(step, 2);
        if (_tablet.Engine is { Snapshot.Recording: false } && chance.Next(3) == 0)
        {
            _faults.Mend();
            Restart();
        }
        else if (chance.Next(100) < _plan.Faults)
        {
            _faults.Break(_plan.Chance(step, 3));
        }
        else if (chance.Next(100) < 15)
        {
            _hands.Touch(_plan.Chance(step, 4));
        }
        else if (Job is { Question: not null })
        {
            _walker.Step(_plan.Chance(step, 0));
        }
    }

    private void Look()
    {
        if (_tablet.Engine is not { } engine)
        {
            return;
        }

        foreach (var screen in _tablet.Screens)
        {
            screen.Turn();
            ScreenWatch.Look(screen, engine.Snapshot, _judge.Ledger, Time.Now);
        }
    }

    /// <summary>I16: stop and its like are heard at once, recorded or not.</summary>
    private void Warned(Command command)
    {
        if (command is Answer answer && LosingWords.IsLosing(answer.Phrase) && Job is { Ended: false } && _ear.LastWasPlain)
        {
            Oracle.Claim(_judge.Prompts.Heard(LosingWords.Of(answer.Phrase), Time.Now), $"I16: {answer.Phrase} was not answered by a warning");
        }
    }

    /// <summary>The end: the state is the fold of the journal (I13), and the store verifies (I12).</summary>
    private string End()
    {
        if (_down)
        {
            return string.Empty;
        }

        if (_tablet.Engine!.Snapshot is { Recording: true } snapshot && !_judge.Memory.Damaged)
        {
            var folded = Rebuild.JobOf(_tablet.Journal!.Read("job-1"));

            // A job that ended just before the power went is not taken up again.
            Oracle.Claim((folded is { Ended: true } && snapshot.Job is null) || JobText.Of(folded) == JobText.Of(snapshot.Job), $"I13: the state is not the fold of the journal: {Difference(folded, snapshot.Job)}");
        }

        _tablet.Close();
        if (!_judge.Memory.MayBeDamaged)
        {
            var report = JournalVerifier.Verify(Tablet.Folder, _tablet.Disk);
            Oracle.Claim(report.IsSound, $"I12: the store does not verify: {string.Join("; ", report.Lines())}");
        }

        return _judge.Memory.Acknowledged.Count == 0 ? string.Empty : _judge.Memory.Acknowledged[^1].Hash;
    }

    private static string Difference(Job? folded, Job? shown) => JobText.Of(folded).Split('\n')
        .Zip(JobText.Of(shown).Split('\n')).Where(pair => pair.First != pair.Second).Select(pair => $"{pair.First} | {pair.Second}").FirstOrDefault() ?? "one ends early";

    /// <summary>Writes the store's export, personal texts included; a damaged store gives none.</summary>
    public void ExportTo(string path)
    {
        if (!_judge.Memory.MayBeDamaged && !_down)
        {
            using var output = File.Create(path);
            JournalExport.Write(Tablet.Folder, output, includeSealed: true, disk: _tablet.Disk);
        }
    }
}
