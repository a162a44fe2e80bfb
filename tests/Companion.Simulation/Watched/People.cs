using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Simulation.Watched;

/// <summary>What the technicians do and say: mostly the next right thing and a check-in now and then, sometimes nothing, sometimes a call.</summary>
internal sealed class People(int chaosPercent)
{
    /// <summary>Invented times, short, so that a short world sees many deadlines.</summary>
    private static readonly CheckInPolicy ByPhase = new(
        [
            new(WorkPhase.Travelling, 120, 100, 30),
            new(WorkPhase.Triage, 100, 80, 30),
            new(WorkPhase.Exposed, 70, 60, 30),
            new(WorkPhase.Working, 100, 80, 30),
            new(WorkPhase.Watching, 120, 100, 40),
        ],
        15,
        CheckInPhrase.StatusAllRight);

    /// <summary>One thing that the person at a tablet does.</summary>
    public void Act(LinkedTablet tablet, Random chance)
    {
        if (tablet.Inner.Engine is not { } engine || !tablet.IsRunning)
        {
            return;
        }

        if (engine.Snapshot.Job is not { Ended: false } job)
        {
            Open(tablet, chance);
        }
        else if (chance.Next(100) < chaosPercent)
        {
            Odd(tablet, chance);
        }
        else if (chance.Next(100) < 35)
        {
            CheckIn(tablet, chance, Phrase.AllRight);
        }
        else if (chance.Next(100) < 80)
        {
            for (var more = chance.Next(1, 5); more > 0 && tablet.Inner.Engine.Snapshot.Job is { Ended: false, Question: not null } next; more--)
            {
                GoOn(tablet, next);
            }
        }

        tablet.Turn();
    }

    private static void Open(LinkedTablet tablet, Random chance)
    {
        tablet.CopyStore();
        var job = $"job-{tablet.Number}-{++tablet.Jobs}";
        var watch = chance.Next(2) == 0 ? ByPhase : DemoWatch.Even(90, 30, 15);
        tablet.Inner.Engine!.Post(new OpenJob(
            job, "crew-4", "Ines", chance.Next(2) == 0 ? null : "Marit", false, ExposurePolicy.SecondPerson, default, DemoKit.TwoTesters(), DemoTime.Start)
        {
            Place = $"Quarry road, marker {tablet.Number}",
            Watch = watch,
            HasWatchroom = true,
        });
        tablet.Inner.Drain();
    }

    private void Odd(LinkedTablet tablet, Random chance)
    {
        switch (chance.Next(7))
        {
            case 0: CheckIn(tablet, chance, Phrase.StatusAllRight); break;
            case 1: Say(tablet, Phrase.HelpMe, null); break;
            case 2: Say(tablet, Phrase.Stop, null); break;
            case 3: Sleeve(tablet); break;
            case 4: Say(tablet, Phrase.PersonLeft, "12"); break;
            case 5 when chance.Next(2) == 0:
                tablet.Inner.Engine!.Post(new CloseJob("done"));
                tablet.Inner.Drain();
                break;
            default: break;
        }
    }

    private static void CheckIn(LinkedTablet tablet, Random chance, Phrase phrase) =>
        Post(tablet, Answer(tablet, phrase, null) with { By = (By)chance.Next(3), Held = Ticks.OfMilliseconds(1500) });

    /// <summary>Cloth on the glass: no sign of life.</summary>
    private static void Sleeve(LinkedTablet tablet) =>
        Post(tablet, Answer(tablet, Phrase.AllRight, null) with { By = By.Touch, Held = Ticks.OfMilliseconds(80) });

    private static void GoOn(LinkedTablet tablet, Job job)
    {
        var (phrase, number) = job.Question switch
        {
            { Code: { } code } => (Phrase.AffirmCode, code),
            { Echo: { } echo } => (echo.Phrase, echo.Number),
            _ => RightAnswer.To(job),
        };
        var echoed = job.Question!.Code is null ? job.Question.Echo : null;
        Post(tablet, Answer(tablet, phrase, number) with { Below = echoed?.Below ?? false, Kind = echoed?.Kind });
    }

    private static void Say(LinkedTablet tablet, Phrase phrase, string? number) => Post(tablet, Answer(tablet, phrase, number));

    private static Answer Answer(LinkedTablet tablet, Phrase phrase, string? number) => new()
    {
        Question = tablet.Inner.Engine!.Snapshot.Job?.Question?.Sequence ?? 0,
        Began = tablet.Inner.Clock.Now(),
        By = By.Voice,
        Phrase = phrase,
        Number = number,
    };

    private static void Post(LinkedTablet tablet, Answer answer)
    {
        tablet.Inner.Engine!.Post(answer);
        tablet.Inner.Drain();
    }
}
