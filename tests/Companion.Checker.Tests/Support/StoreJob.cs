using System.Text;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Journal;
using Companion.Journal.Proof;
using Companion.TestKit;

namespace Companion.Checker.Tests.Support;

/// <summary>A job by the real engine over a real store in a folder of its own, on simulated time, answered without voice.</summary>
public sealed class StoreJob : IAsyncDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-checker-").FullName;
    private readonly ManualClock _clock = new();
    private readonly FakeSpeaker _speaker = new();
    private JournalStore _journal = null!;
    private JobEngine _engine = null!;

    private StoreJob()
    {
    }

    /// <summary>The job.</summary>
    public Job Job => _engine.Snapshot.Job!;

    /// <summary>Opens a job on the test van, with waits of 20, 35 and 65 seconds.</summary>
    public static async Task<StoreJob> OpenAsync()
    {
        var job = new StoreJob();
        await job.StartAsync();
        await job.DoAsync(new OpenJob(
            "job-1", "crew-4", "Ines", "Marit", true, default, default, DemoKit.Complete(), DemoTime.Start)
        {
            Arrival = DemoArrival.Short(),
        });
        return job;
    }

    /// <summary>Answers rightly until a question of this kind is open.</summary>
    public async Task UntilAsync(NeedKind kind, int nth = 1)
    {
        for (var turn = 0; turn < 2000; turn++)
        {
            if (Job.Question!.Need.Kind == kind && Job.Question.Echo is null && --nth == 0)
            {
                return;
            }

            await AnswerRightlyAsync();
        }

        throw new InvalidOperationException($"The job never came to {kind}; it stands at {Job.Question!.Need}.");
    }

    /// <summary>Gives the right answer to the present stage of the open question.</summary>
    public async Task AnswerRightlyAsync()
    {
        var question = Job.Question!;
        if (question.Code is { } code)
        {
            await SayAsync(Phrase.AffirmCode, code);
        }
        else if (question.Need.Kind == NeedKind.WaitOver)
        {
            await PassAsync(1);
        }
        else
        {
            var (phrase, number) = RightAnswer.To(Job);
            await SayAsync(phrase, number);
        }
    }

    /// <summary>Answers rightly up to clear to work, then hands over.</summary>
    public async Task FinishAsync()
    {
        if (Job.PuttingBack)
        {
            await UntilAsync(NeedKind.PutBack);
        }
        else
        {
            await UntilAsync(NeedKind.Working);
        }

        await ClaimAsync(Phrase.HandOver);
    }

    /// <summary>Says something in answer to the open question.</summary>
    public async Task SayAsync(Phrase phrase, string? number = null)
    {
        _clock.Move(time => time.Pass(Ticks.OfMilliseconds(10)));
        await DoAsync(new Answer
        {
            Question = Job.Question?.Sequence ?? 0,
            Began = _clock.Now(),
            By = By.Voice,
            Phrase = phrase,
            Number = number,
        });
    }

    /// <summary>Says something and affirms it with the code.</summary>
    public async Task ClaimAsync(Phrase phrase, string? number = null)
    {
        await SayAsync(phrase, number);
        await SayAsync(Phrase.AffirmCode, Job.Question!.Code);
    }

    /// <summary>Says a reading twice.</summary>
    public async Task ReadAsync(string volts)
    {
        await SayAsync(Phrase.Reading, volts);
        await SayAsync(Phrase.Reading, volts);
    }

    /// <summary>Lets seconds pass with a pulse every second.</summary>
    public async Task PassAsync(int seconds)
    {
        for (var second = 0; second < seconds; second++)
        {
            _clock.Pass(1);
            _engine.Pulse();
            await _engine.DrainAsync();
        }
    }

    /// <summary>The tablet sleeps and wakes.</summary>
    public async Task SleepAsync(int seconds)
    {
        _clock.Move(time => time.Sleep(Ticks.OfSeconds(seconds)));
        await PassAsync(1);
    }

    /// <summary>The tablet is started anew.</summary>
    public async Task RebootAsync()
    {
        await _journal.DisposeAsync();
        _clock.Move(time => time.Reboot());
        await StartAsync();
    }

    /// <summary>Somebody sets the wall clock.</summary>
    public void StepWall(TimeSpan by) => _clock.Move(time => time.StepWall(by));

    /// <summary>The whole store as NDJSON.</summary>
    public string Export(bool includeSealed = false)
    {
        using var output = new MemoryStream();
        JournalExport.Write(_folder, output, includeSealed: includeSealed);
        return Encoding.UTF8.GetString(output.ToArray());
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _journal.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private async Task StartAsync()
    {
        _journal = await JournalStore.OpenAsync(_folder, new StoreOptions(_clock) { Kind = StoreKind.Rehearsal });
        var sheet = DemoSheets.Van(20, 35, 65) with { RehearsalOnly = true };
        _engine = new JobEngine(new EngineParts(_journal, _clock, new FakeEar(), _speaker, new FakeSheets(sheet), new SeededChance(1)));
        _speaker.Inbox = _engine;
        _engine.Start();
        await _engine.DrainAsync();
    }

    private async Task DoAsync(Command command)
    {
        _engine.Post(command);
        await _engine.DrainAsync();
    }
}
