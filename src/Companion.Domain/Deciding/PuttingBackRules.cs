using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>Breaks, tools, and the way back: what was proved counts no more from the first word of it.</summary>
internal static class PuttingBackRules
{
    /// <summary>Digits of a number of tools, at most.</summary>
    public const int MostToolDigits = 2;

    /// <summary>Nobody is at the vehicle: proofs and clear to work are void, and the return begins with "nothing touched" (I15).</summary>
    public static void Break(Turn turn)
    {
        const string reason = "a break is taken";
        VoidRules.VoidProofs(turn, _ => true, reason);
        VoidRules.AbandonTest(turn, reason);
        VoidRules.Lapse(turn, reason);
        turn.Add(new PhaseEntered(JobPhase.Break));
    }

    /// <summary>The work is done: everything that was proved is void before the first lock comes off.</summary>
    public static void Begin(Turn turn)
    {
        VoidRules.VoidEverythingOn(turn, _ => true, "the vehicle is being put back");
        turn.Add(new PhaseEntered(JobPhase.PuttingBack));
    }

    /// <summary>Why the number of tools cannot be right.</summary>
    public static Refusal? CheckTools(Job job, Echo? echo)
    {
        if (!PeopleRules.IsNumber(echo?.Number, MostToolDigits))
        {
            return new Refusal("Say checked, and how many, digit by digit.");
        }

        return job.PuttingBack && job.ToolsOut is { } went && Count(echo) != went
            ? new Refusal($"{went} tools went out and {Count(echo)} came back. Find the difference, then count again.")
            : null;
    }

    /// <summary>Records the count.</summary>
    public static void Tools(Turn turn, Echo echo) => turn.Add(new ToolsCounted(Count(echo), turn.Job.PuttingBack));

    private static int Count(Echo echo) => int.Parse(echo.Number!, System.Globalization.CultureInfo.InvariantCulture);
}
