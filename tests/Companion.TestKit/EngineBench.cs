using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Sound;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;

namespace Companion.TestKit;

/// <summary>The engine on fakes: journal, speaker, ear, clock, chance and sheets under a test's control.</summary>
public sealed class EngineBench
{
    /// <summary>An engine over a journal; over the entries of an earlier one after a restart.</summary>
    public EngineBench(MemoryJournal? journal = null, ManualClock? clock = null, FakeSheets? sheets = null, int seed = 1)
    {
        Journal = journal ?? new MemoryJournal();
        Clock = clock ?? new ManualClock();
        Sheets = sheets ?? new FakeSheets(DemoSheets.Van());
        Engine = new JobEngine(new EngineParts(Journal, Clock, Ear, Speaker, Sheets, new SeededChance(seed)));
        Speaker.Inbox = Engine;
    }

    /// <summary>Who watches over the technician, and how; null when nobody does.</summary>
    public CheckInPolicy? Watch { get; init; }

    /// <summary>The order to record sound; null when none is recorded.</summary>
    public SoundPolicy? Sound { get; init; }

    /// <summary>The journal.</summary>
    public MemoryJournal Journal { get; }

    /// <summary>The clock.</summary>
    public ManualClock Clock { get; }

    /// <summary>The sheets.</summary>
    public FakeSheets Sheets { get; }

    /// <summary>The speaker.</summary>
    public FakeSpeaker Speaker { get; } = new();

    /// <summary>The ear.</summary>
    public FakeEar Ear { get; } = new();

    /// <summary>The engine.</summary>
    public JobEngine Engine { get; }

    /// <summary>The job as the views see it.</summary>
    public Job? Job => Engine.Snapshot.Job;

    /// <summary>Starts the engine and lets it settle.</summary>
    public async Task<EngineBench> StartAsync()
    {
        Engine.Start();
        await Engine.DrainAsync();
        return this;
    }

    /// <summary>Starts and opens a job.</summary>
    public async Task<EngineBench> OpenAsync(string id = "job-1", Sheet? sheet = null)
    {
        if (sheet is not null)
        {
            Sheets.Replace(sheet);
        }

        await StartAsync();
        await DoAsync(new OpenJob(
            id, "crew-4", "Ines", "Marit", Journal.Kind == StoreKind.Rehearsal, default, default, DemoKit.Complete(), DemoTime.Start)
        {
            Watch = Watch,
            Sound = Sound,
        });
        return this;
    }

    /// <summary>Posts a command and lets the engine settle.</summary>
    public async Task DoAsync(Command command)
    {
        Engine.Post(command);
        await Engine.DrainAsync();
    }

    /// <summary>An answer to the open question that begins now.</summary>
    public Answer Answer(Phrase phrase, string? number = null, By by = By.Voice, Ticks held = default) => new()
    {
        Question = Job?.Question?.Sequence ?? 0,
        Began = Clock.Now(),
        By = by,
        Phrase = phrase,
        Number = number,
        Held = held,
    };

    /// <summary>Says something in answer to the open question.</summary>
    public async Task SayAsync(Phrase phrase, string? number = null, By by = By.Voice, Ticks held = default)
    {
        Clock.Move(time => time.Pass(Ticks.OfMilliseconds(10)));
        await DoAsync(Answer(phrase, number, by, held));
    }

    /// <summary>Lets an utterance reach the engine.</summary>
    public async Task HearAsync(string phraseId, string words, HearingOutcome outcome = HearingOutcome.Accepted)
    {
        Clock.Move(time => time.Pass(Ticks.OfMilliseconds(10)));
        Engine.Post(Ear.Hear(phraseId, words, Clock.Now(), outcome));
        await Engine.DrainAsync();
    }

    /// <summary>Lets seconds pass with a pulse every second.</summary>
    public async Task PassAsync(long seconds)
    {
        for (var second = 0; second < seconds; second++)
        {
            Clock.Pass(1);
            Engine.Pulse();
            await Engine.DrainAsync();
        }
    }

    /// <summary>Answers every question rightly until one of this kind is open.</summary>
    public async Task<EngineBench> UntilAsync(NeedKind kind, int nth = 1)
    {
        for (var step = 0; step < 4000; step++)
        {
            if (Job!.Question!.Need.Kind == kind && Job.Question.Echo is null && --nth == 0)
            {
                return this;
            }

            await AnswerRightlyAsync();
        }

        throw new InvalidOperationException($"The job never came to {kind}; it stands at {Job!.Question!.Need}.");
    }

    /// <summary>Gives the right answer to the present stage of the open question.</summary>
    public async Task AnswerRightlyAsync()
    {
        var question = Job!.Question!;
        if (question.Code is not null)
        {
            await SayAsync(Phrase.AffirmCode, question.Code);
            return;
        }

        if (question.Need.Kind == NeedKind.WaitOver)
        {
            await PassAsync(1);
            return;
        }

        var (phrase, number) = RightAnswer.To(Job);
        await SayAsync(phrase, number);
    }
}
