using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Screens;
using Companion.Screens.Starting;
using Companion.Simulation.Ports;
using Companion.TestKit;

namespace Companion.Simulation.Endurance;

/// <summary>
/// One job of many hours, on the real loop, journal and screens, with only the clock simulated: waits that run, utterances of every
/// kind, clear to work once in each hour, and a disturbance that begins it all again. Measures memory, drift and the journal's size.
/// </summary>
internal sealed class LongJob : IAsyncDisposable
{
    private readonly ManualClock _clock = new();
    private readonly LongLoad _load;
    private readonly string _folder;
    private readonly JournalStore _store;
    private readonly JobEngine _engine;
    private readonly SimulatedSpeaker _speaker;
    private readonly JobScreen[] _screens;
    private readonly Drift _drift = new();
    private readonly Random _chance = new(1);
    private int _said;

    private LongJob(LongLoad load, string folder, JournalStore store, ManualClock clock)
    {
        (_load, _folder, _store, _clock) = (load, folder, store, clock);
        _speaker = new SimulatedSpeaker(_clock) { Asked = _ => { } };
        var sheets = new FakeSheets(LongSheet.Of(load.Waits));
        _engine = new JobEngine(new EngineParts(store, _clock, new NoEar(), _speaker, sheets, new SeededChance(1)));
        _engine.Changed += snapshot => _drift.Look(snapshot);
        _speaker.Inbox = _engine;
        var opening = new JobOpening([], [], [], true, ExposurePolicy.SecondPerson, RatingPolicy.AcFigure, () => "job-1", () => DemoTime.Start);
        _screens = [.. Enumerable.Range(0, load.Screens).Select(_ => new JobScreen(ScreenParts.Of(_engine, _clock, sheets, opening)))];
    }

    /// <summary>Opens a new store in memory-backed files where the machine has them, so that the processor and not the disk is the limit.</summary>
    public static async Task<LongJob> OpenAsync(LongLoad load)
    {
        var parent = Directory.Exists("/dev/shm") ? "/dev/shm" : Path.GetTempPath();
        var folder = Directory.CreateDirectory(Path.Combine(parent, $"companion-endurance-{Guid.NewGuid():N}")).FullName;
        var clock = new ManualClock();
        var store = await JournalStore.OpenAsync(folder, new StoreOptions(clock) { Kind = StoreKind.Rehearsal }).ConfigureAwait(false);
        return new LongJob(load, folder, store, clock);
    }

    /// <summary>Lives it.</summary>
    public async Task<LongReport> LiveAsync()
    {
        _engine.Start();
        await DoAsync(new OpenJob("job-1", "crew-4", "Ines", "Marit", true, ExposurePolicy.SecondPerson, default, DemoKit.Complete(), DemoTime.Start)).ConfigureAwait(false);
        var memory = new List<long>();
        for (var hour = 0; hour < _load.Hours; hour++)
        {
            await HourAsync(_load.Utterances * (hour + 1) / _load.Hours).ConfigureAwait(false);
            memory.Add(GC.GetTotalMemory(forceFullCollection: true));
        }

        var entries = _store.Read("job-1").Count;
        var bytes = Directory.EnumerateFiles(_folder).ToDictionary(file => Path.GetFileName(file), file => new FileInfo(file).Length);
        return new LongReport(_load, _said, entries, memory, _drift.Completed, _drift.WorstNanoseconds, _drift.Early, bytes, _engine.Snapshot.Recording);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync().ConfigureAwait(false);
        Directory.Delete(_folder, recursive: true);
    }

    /// <summary>An hour: everything anew after a disturbance, then waits, tests and work, with talk all the time.</summary>
    private async Task HourAsync(int until)
    {
        await SayAsync(Phrase.KeyOn, null).ConfigureAwait(false);
        var pulses = 3600 * _load.PulsesPerSecond;
        for (var pulse = 0; pulse < pulses; pulse++)
        {
            _clock.Time.Pass(Ticks.OfMilliseconds(1000 / _load.PulsesPerSecond));
            _speaker.Play();
            _engine.Pulse();
            await _engine.DrainAsync().ConfigureAwait(false);
            foreach (var screen in _screens)
            {
                screen.Turn();
            }

            var due = until - (_load.Utterances / _load.Hours) + (int)((long)(_load.Utterances / _load.Hours) * (pulse + 1) / pulses);
            if (_said < due)
            {
                await TalkAsync().ConfigureAwait(false);
            }
        }
    }

    /// <summary>The right answer while something is to be done; while waiting or working, whatever people say.</summary>
    private async Task TalkAsync()
    {
        var job = _engine.Snapshot.Job!;
        var question = job.Question!;
        if (question.Code is not null)
        {
            await SayAsync(Phrase.AffirmCode, question.Code).ConfigureAwait(false);
        }
        else if (question.Need.Kind is not (NeedKind.WaitOver or NeedKind.Working))
        {
            var (phrase, number) = RightAnswer.To(job);
            await SayAsync(phrase, number).ConfigureAwait(false);
        }
        else if (_chance.Next(5) is var which && which == 0)
        {
            _said++;
            await DoAsync(new Unheard("opened", "unsure", 400)).ConfigureAwait(false);
        }
        else
        {
            await SayAsync(which switch { 1 => Phrase.SayAgain, 2 => Phrase.ProvedDead, 3 => Phrase.Watching, _ => Phrase.HowLong }, "12").ConfigureAwait(false);
        }
    }

    private Task SayAsync(Phrase phrase, string? number)
    {
        _said++;
        return DoAsync(new Answer
        {
            Question = _engine.Snapshot.Job?.Question?.Sequence ?? 0,
            Began = _clock.Now(),
            By = By.Voice,
            Phrase = phrase,
            Number = number,
        });
    }

    private Task DoAsync(Command command)
    {
        _engine.Post(command);
        return _engine.DrainAsync();
    }

    private sealed class NoEar : IEar
    {
        public void Listen(ListeningFor phrases)
        {
        }
    }
}
