using Companion.Domain;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.TestKit.Walking;

/// <summary>Turns numbers into what a technician, a vehicle, an operating system and bad luck do to a job. Mostly right, so that deep states are reached.</summary>
public sealed class Walker(IWalkedJob world, int chaosPercent, Random random)
{
    private static readonly string?[] Numbers =
        ["0", "1", "2", "3", "6", "12", "60", "61", "-61", "230", "231", "801", "47", "7", "99", "", "abc", "+3", ".5", "5.", "1.23456", "99999999", null, "-0"];

    /// <summary>Check-ins are left to the worlds that are watched over.</summary>
    private static readonly Phrase[] Phrases = [.. Enum.GetValues<Phrase>().Where(phrase => phrase is not (Phrase.AllRight or Phrase.StatusAllRight or Phrase.NoSignal))];

    private static readonly Phrase[] Losing = [.. Phrases.Where(LosingWords.IsLosing)];

    private static readonly Phrase[] Going =
        [Phrase.PersonArrived, Phrase.PersonJoins, Phrase.PersonTakesOver, Phrase.PersonLeft, Phrase.TakingBreak];

    private static readonly string[] Crew = ["12", "13", "14"];

    private static readonly string[] Shown = ["0", "1", "2", "3", "6", "12", "15", "30", "60", "61", "-61", "-30", "230", "800", "801", "-900"];

    /// <summary>On some vehicles nothing reaches the probes.</summary>
    private readonly bool _allZero = random.Next(5) == 0;

    private Answer? _last;
    private Random _random = random;

    /// <summary>Takes steps until the job ends.</summary>
    public void Walk(int steps)
    {
        for (var step = 0; step < steps && world.Job is not { Ended: true }; step++)
        {
            Step();
        }
    }

    /// <summary>One step with chance of its own, so that it is the same step whatever was left out before it.</summary>
    public void Step(Random chance)
    {
        _random = chance;
        Step();
    }

    private void Step()
    {
        if (_random.Next(100) < chaosPercent)
        {
            Chaos();
        }
        else
        {
            Right();
        }
    }

    /// <summary>What a careful technician would do next, one stage at a time.</summary>
    public void Right()
    {
        var question = world.Job!.Question!;
        if (question.Need.Kind == NeedKind.WaitOver && question.Echo is null)
        {
            WaitOut();
            return;
        }

        if (question is { Need.Kind: NeedKind.Working, Code: null })
        {
            Work();
            return;
        }

        if (_random.Next(40) == 0)
        {
            Dawdle(_random.Next(1, 30));
        }

        Say(question switch
        {
            { Code: { } code } => world.Answer(Phrase.AffirmCode, code),
            { Echo: { } echo } => world.Answer(echo.Phrase, echo.Number) with
            {
                Below = echo.Below, Kind = echo.Kind, Tester = _random.Next(25) == 0 ? DemoKit.SecondTester : null,
            },
            _ => First(),
        });
    }

    private void Work()
    {
        if (_random.Next(3) == 0)
        {
            Say(world.Answer(Phrase.WorkDone, null));
        }
        else
        {
            Dawdle(_random.Next(1, 500));
        }
    }

    private Answer First()
    {
        var (phrase, number) = RightAnswer.To(world.Job!);
        var answer = world.Answer(phrase, number);
        return _random.Next(10) switch
        {
            0 => answer with { By = By.Touch, Held = Ticks.OfMilliseconds(1200 + _random.Next(500)) },
            5 when phrase == Phrase.Opened && _random.Next(3) == 0 => answer with { Phrase = Phrase.CannotDo },
            1 when phrase == Phrase.Removed => answer with { Phrase = Phrase.ByProcedure, Number = "77" },
            2 when phrase == Phrase.Removed => answer with { Number = world.Job!.Locks[_random.Next(world.Job.Locks.Length)].Number },
            3 or 4 when phrase == Phrase.Tools && world.Job!.PuttingBack => answer with { Number = "8" },
            1 when phrase == Phrase.Reading && world.Job!.Question!.Need.Kind == NeedKind.TakeReading => answer with { Number = "6", Below = true },
            _ when _allZero && world.Job!.Question!.Need.Kind == NeedKind.TakeReading => answer with { Number = "0" },
            _ => answer,
        };
    }

    private void WaitOut()
    {
        var most = _random.Next(3, 90);
        for (var tick = 0; tick < most && world.Job!.Question!.Need.Kind == NeedKind.WaitOver; tick++)
        {
            world.Pass(Ticks.OfMilliseconds(_random.Next(4000, 11000)));
            world.Do(new Tick());
        }
    }

    /// <summary>Time passes as it should, with ticks.</summary>
    private void Dawdle(int ticks)
    {
        for (var tick = 0; tick < ticks; tick++)
        {
            world.Pass(Ticks.OfSeconds(9));
            world.Do(new Tick());
        }
    }

    private void Say(Answer answer)
    {
        world.Pass(Ticks.OfMilliseconds(_random.Next(0, 3000)));
        _last = answer with { Began = world.Time.Now };
        world.Pass(Ticks.OfMilliseconds(_random.Next(0, 500)));
        world.Do(_last);
    }

    private void Chaos()
    {
        if (_random.Next(6) == 0)
        {
            // Time passes without a tick: whatever comes next must notice it.
            world.Pass(Ticks.OfMilliseconds(_random.Next(60_000)));
        }

        if (world.Job is { Proofs.IsEmpty: false } && _random.Next(4) == 0)
        {
            Lose();
            return;
        }

        if (world.Job!.Question?.Need.Kind is NeedKind.TakeReading or NeedKind.ProveTester && _random.Next(2) == 0)
        {
            Misread();
            return;
        }

        Anything();
    }

    private void Lose()
    {
        switch (_random.Next(6))
        {
            case 0: Restart(); break;
            case 3: Say(world.Answer(Phrase.TakingBreak, null)); break;
            case 4: Say(world.Answer(Phrase.PersonTakesOver, Crew[_random.Next(Crew.Length)])); break;
            case 1: world.Time.Sleep(Ticks.OfSeconds(_random.Next(14))); world.Do(new Tick()); break;
            case 2: Say(world.Answer(Phrase.CannotDo, null)); break;
            default: Say(world.Answer(Losing[_random.Next(Losing.Length)], null)); break;
        }
    }

    private void Misread() => Say(world.Answer(Phrase.Reading, Shown[_random.Next(Shown.Length)]) with
    {
        Below = _random.Next(4) == 0,
        Tester = _random.Next(3) == 0 ? DemoKit.SecondTester : null,
        Kind = _random.Next(6) switch { 0 => VoltageKind.Dc, 1 => VoltageKind.Ac, _ => null },
    });

    private void Anything()
    {
        switch (_random.Next(24))
        {
            case 0: Say(world.Answer(Losing[_random.Next(Losing.Length)], null)); break;
            case 1: Say(world.Answer(Phrase.CannotDo, null)); break;
            case 2: Say(world.Answer(Phrase.ProvedDead, null)); break;
            case 3: Say(world.Answer(Phrase.ClearToWork, null)); break;
            case 4 when _last is { } last: world.Do(last); break;
            case 5: Say(world.Answer(Phrase.AffirmCode, _random.Next(100).ToString("00", null))); break;
            case 6: Say(world.Answer(Phrase.Affirm, null) with { By = By.Button, Held = Ticks.OfMilliseconds(_random.Next(3000)) }); break;
            case 7: Say(Stray() with { Question = Math.Max(0, (world.Job!.Question?.Sequence ?? 0) - _random.Next(1, 9)) }); break;
            case 8: Early(); break;
            case 9: world.Pass(Ticks.OfMilliseconds(_random.Next(700_000))); world.Do(new Tick()); break;
            case 10: world.Pass(Ticks.OfMilliseconds(_random.Next(15_000))); world.Do(new Tick()); break;
            case 11: world.Time.StepWall(TimeSpan.FromSeconds(_random.Next(-200_000, 200_000))); world.Do(new Tick()); break;
            case 12: world.Time.Sleep(Ticks.OfMilliseconds(_random.Next(300))); world.Do(new Tick()); break;
            case 13: world.Time.Sleep(Ticks.OfSeconds(_random.Next(2) == 0 ? _random.Next(14) : _random.Next(1000))); world.Do(new Tick()); break;
            case 14: Restart(); break;
            case 15: world.Do(new Unheard("opened", "unsure", _random.Next(700))); break;
            case 16: world.Do(new PromptEnded("words", _random.Next(2) == 0, "cut off")); break;
            case 17: world.Do(new DeviceChanged("microphone", _random.Next(2) == 0, "unplugged")); break;
            case 18: world.Do(_random.Next(2) == 0 ? new ViewGone("cuff") : new CloseJob("done")); break;
            case 19: world.Open(); break;
            case 20: Say(world.Answer(Phrase.Watching, Numbers[_random.Next(Numbers.Length)])); break;
            case 21: Say(world.Answer(Phrase.Wrong, null)); break;
            case 22: Say(world.Answer(Going[_random.Next(Going.Length)], Crew[_random.Next(Crew.Length)])); break;
            default: Say(Stray()); break;
        }
    }

    private void Early()
    {
        var began = world.Time.Now;
        var answer = world.Answer(world.Job!.Question?.Code is null ? RightAnswer.To(world.Job).Phrase : Phrase.AffirmCode, world.Job.Question?.Code);
        world.Do(answer with
        {
            Began = began with { Boot = began.Boot - Ticks.OfMilliseconds(_random.Next(1, 20_000)) }, By = By.Touch, Held = Ticks.OfSeconds(_random.Next(3)),
        });
    }

    private void Restart()
    {
        if (_random.Next(2) == 0)
        {
            world.Time.Reboot();
        }
        else
        {
            world.Time.Pass(Ticks.OfMilliseconds(_random.Next(100_000)));
        }

        world.Restart();
    }

    private Answer Stray() => world.Answer(Phrases[_random.Next(Phrases.Length)], _random.Next(4) == 0 ? world.Job!.Question?.Code : Numbers[_random.Next(Numbers.Length)]) with
    {
        By = (By)_random.Next(3),
        Held = Ticks.OfMilliseconds(_random.Next(2400)),
        Below = _random.Next(5) == 0,
        Kind = _random.Next(5) switch { 0 => VoltageKind.Dc, 1 => VoltageKind.Ac, _ => null },
        Tester = _random.Next(6) switch { 0 => DemoKit.Tester, 1 => DemoKit.SecondTester, 2 => new KitId("nobody"), _ => null },
        Sheet = world.Job?.Sheet is null && _random.Next(3) == 0 ? null : world.Answer(default, null).Sheet,
    };
}
