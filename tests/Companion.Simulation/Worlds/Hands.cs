using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.Screens;
using Companion.Screens.Answering;
using Companion.TestKit;

namespace Companion.Simulation.Worlds;

/// <summary>Gloved hands on two screens: taps, holds, keys, double taps, palms, and fingers that were down before the question changed (I17).</summary>
internal sealed class Hands(World world, Tablet tablet)
{
    private static readonly Ticks Tap = Ticks.OfMilliseconds(80);
    private static readonly Ticks Hold = Ticks.OfMilliseconds(1400);
    private static readonly Ticks Blink = Ticks.OfMilliseconds(400);

    private QuestionKey _old;

    /// <summary>One thing that hands do.</summary>
    public void Touch(Random chance)
    {
        if (tablet.Screens.Count == 0)
        {
            return;
        }

        var screen = tablet.Screens[chance.Next(2)];
        var shown = screen.View.Key;
        world.Pass(Blink);
        world.Do(new Domain.Deciding.Tick());
        switch (chance.Next(9))
        {
            case 0: Press(screen, Target.Primary, screen.View.Key, Tap); break;
            case 1: Double(chance); break;
            case 2: Palm(screen); break;
            case 3: Press(screen, Target.Primary, _old, Hold); break;
            case 4: Press(screen, Target.Primary, shown, Hold); break;
            case 5 when chance.Next(12) == 0: Press(screen, Target.Third, screen.View.Key, Tap); break;
            case 6 when chance.Next(12) == 0: Press(screen, Target.Second, screen.View.Key, Tap); break;
            default: Answer(screen); break;
        }

        _old = shown;
    }

    /// <summary>The right number on the keypad, then the usual button held.</summary>
    private void Answer(JobScreen screen)
    {
        if (world.Job is { Question: { Code: null, Echo: null } } job && screen.View.Number is not null)
        {
            foreach (var key in RightAnswer.To(job).Number ?? string.Empty)
            {
                Press(screen, Target.Of(Target.Key, key.ToString()), screen.View.Key, Tap);
            }
        }

        Press(screen, Target.Primary, screen.View.Key, Hold);
    }

    /// <summary>Both screens answer at once: one counts.</summary>
    private void Double(Random chance)
    {
        var (first, second) = (tablet.Screens[0], tablet.Screens[1]);
        first.Down(1, Target.Primary, first.View.Key, Ticks.Zero);
        second.Down(1, Target.Primary, second.View.Key, Ticks.Zero);
        world.Pass(Hold);
        world.Do(new Domain.Deciding.Tick());
        first.Up(1, first.Beat, Hold);
        if (chance.Next(2) == 0)
        {
            world.Settle();
        }

        second.Up(1, second.Beat, Hold);
        world.Settle();
    }

    /// <summary>A palm: a second touch spoils the first.</summary>
    private void Palm(JobScreen screen)
    {
        var before = world.Job?.Question;
        screen.Down(1, Target.Primary, screen.View.Key, Ticks.Zero);
        screen.Down(2, Target.Primary, screen.View.Key, Ticks.Zero);
        world.Pass(Hold);
        screen.Up(1, screen.Beat, Hold);
        screen.Up(2, screen.Beat, Hold);
        world.Settle();
        TestKit.Judging.Oracle.Claim(tablet.Engine is null || world.Job?.Question == before, "I17: a palm answered the question");
    }

    private void Press(JobScreen screen, string target, QuestionKey shown, Ticks length)
    {
        screen.Down(1, target, shown, Ticks.Zero);
        world.Pass(length);
        if (length > Blink)
        {
            world.Do(new Domain.Deciding.Tick());
        }

        screen.Up(1, screen.Beat, length);
        world.Settle();
    }
}
