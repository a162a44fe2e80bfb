using Companion.Domain;
using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Sound;
using Companion.Domain.Time;

namespace Companion.TestKit;

/// <summary>One recorded event with its place and time.</summary>
/// <param name="Sequence">Its sequence.</param>
/// <param name="Event">The event.</param>
/// <param name="Moment">When.</param>
public sealed record Recorded(long Sequence, JobEvent Event, Moment Moment);

/// <summary>The rules on a bench: commands in, events folded at once, without engine or disk.</summary>
public sealed class JobBench
{
    /// <summary>The sheet that the job uses.</summary>
    public Sheet Sheet { get; init; } = DemoSheets.Van();

    /// <summary>The arrival list; null when the job begins at the sheet.</summary>
    public ArrivalList? Arrival { get; init; }

    /// <summary>Who watches over the technician, and how; null when nobody does.</summary>
    public CheckInPolicy? Watch { get; init; }

    /// <summary>True when the tablet has a watch room.</summary>
    public bool HasWatchroom { get; init; }

    /// <summary>The order to record sound; null when none is recorded.</summary>
    public SoundPolicy? Sound { get; init; }

    /// <summary>The clocks.</summary>
    public DemoTime Time { get; } = new();

    /// <summary>The job.</summary>
    public Job? Job { get; private set; }

    /// <summary>Everything recorded.</summary>
    public List<Recorded> Log { get; } = [];

    /// <summary>The last decision.</summary>
    public Decision Last { get; private set; } = new Accepted([]);

    /// <summary>Decides a command now and folds what it brings.</summary>
    public Decision Do(Command command, int draw = 47)
    {
        Last = Decide.On(Job, command, Time.Now, draw);
        foreach (var happened in Last.Events)
        {
            var sequence = (Job?.Sequence ?? 0) + 1;
            Log.Add(new Recorded(sequence, happened, Time.Now));
            Job = Evolve.Apply(Job, happened, "job-1", sequence, Time.Now with { Awake = Ticks.Zero });
        }

        return Last;
    }

    /// <summary>Opens a job.</summary>
    public JobBench Open(string? secondPerson = "Marit", ExposurePolicy policy = ExposurePolicy.SecondPerson, bool rehearsal = false)
    {
        Do(new OpenJob("job-1", "crew-4", "Ines", secondPerson, rehearsal, policy, default, DemoKit.Complete(), DemoTime.Start)
        {
            Place = "Quarry road, marker 7",
            Arrival = Arrival,
            Watch = Watch,
            HasWatchroom = HasWatchroom,
            Sound = Sound,
        });
        return this;
    }

    /// <summary>Says something in answer to the open question.</summary>
    public Decision Say(Phrase phrase, string? number = null, By by = By.Voice, Ticks held = default, KitId? tester = null, bool below = false)
    {
        Time.Pass(Ticks.OfMilliseconds(10));
        return Do(new Answer
        {
            Question = Job?.Question?.Sequence ?? 0,
            Began = Time.Now,
            By = by,
            Phrase = phrase,
            Number = number,
            Held = held,
            Tester = tester,
            Below = below,
            Sheet = Job?.Sheet is null ? new OfferedSheet(Sheet, "digest-of-the-sheet") : null,
        });
    }

    /// <summary>Says something and affirms its echo with the code.</summary>
    public Decision Claim(Phrase phrase, string? number = null)
    {
        var claimed = Say(phrase, number);
        return claimed is Refused ? claimed : Say(Phrase.AffirmCode, Job!.Question!.Code);
    }

    /// <summary>Says a reading twice.</summary>
    public Decision Read(string number, KitId? tester = null, bool below = false)
    {
        var said = Say(Phrase.Reading, number, tester: tester, below: below);
        return said is Refused ? said : Say(Phrase.Reading, number, tester: tester, below: below);
    }

    /// <summary>Lets seconds pass, ticking once a second.</summary>
    public JobBench Pass(long seconds)
    {
        for (var second = 0; second < seconds; second++)
        {
            Time.Pass(Ticks.OfSeconds(1));
            Do(new Tick());
        }

        return this;
    }

    /// <summary>Sound check, sheet and equipment.</summary>
    public JobBench Prepare()
    {
        Say(Phrase.AffirmCode, Job!.Question!.Code);
        Claim(Phrase.Sheet, "7");
        while (Job!.Question!.Need.Kind == NeedKind.CheckKit)
        {
            if (Say(Phrase.Checked) is Refused refused)
            {
                throw new InvalidOperationException(refused.Reason);
            }
        }

        return this;
    }

    /// <summary>Answers every question rightly until this kind of question is open, waiting where the job waits.</summary>
    public JobBench Until(NeedKind kind, int nth = 1)
    {
        for (var step = 0; step < 2000; step++)
        {
            if (Job!.Question!.Need.Kind == kind && --nth == 0)
            {
                return this;
            }

            AnswerRightly();
        }

        throw new InvalidOperationException($"The job never came to {kind}; it stands at {Job!.Question!.Need}.");
    }

    /// <summary>Gives the right answer to the open question.</summary>
    public Decision AnswerRightly()
    {
        var kind = Job!.Question!.Need.Kind;
        var (phrase, number) = RightAnswer.To(Job);
        return kind switch
        {
            NeedKind.WaitOver => Pass(1).Last,
            NeedKind.SoundCheck => Say(phrase, number),
            _ => Expectations.Of(kind).Confirmation switch
            {
                Confirmation.SayAgain => Read(number!),
                Confirmation.Code => Claim(phrase, number),
                _ => Say(phrase, number),
            },
        };
    }

    /// <summary>How often an event of this type was recorded.</summary>
    public int Count<T>()
        where T : JobEvent => Log.Count(recorded => recorded.Event is T);

    /// <summary>The last event of this type.</summary>
    public T LastOf<T>()
        where T : JobEvent => (T)Log.Last(recorded => recorded.Event is T).Event;
}
