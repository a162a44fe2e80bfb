using Companion.Domain.Time;
using Companion.Engine;
using Companion.Screens;
using Companion.Screens.Showing;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Checking;

/// <summary>Looks at a screen: no verdict that the log does not give (I7, I13), no countdown shorter than the truth (I2), nothing at all without word from the loop (I18).</summary>
internal static class ScreenWatch
{
    private static readonly Ticks Silence = Ticks.OfSeconds(2);

    /// <summary>Looks once.</summary>
    public static void Look(JobScreen screen, Snapshot snapshot, Ledger ledger, Moment now)
    {
        var view = screen.View;
        if (snapshot.Moment.BootId != now.BootId || now.Boot - snapshot.Moment.Boot >= Silence)
        {
            Oracle.Claim(view.Kind == ViewKind.NotConnected && view.Statements.IsEmpty && view.Discharge is null && screen.Countdowns.IsEmpty, "I18: a view without word for 2 s goes on showing");
            return;
        }

        if (!snapshot.Recording)
        {
            Oracle.Claim(view.Statements.IsEmpty && view.Discharge is null && screen.Countdowns.IsEmpty, "I16: a verdict or countdown is shown although nothing is recorded");
            return;
        }

        Oracle.Claim(view.Statements.IsEmpty || ledger.Cleared || ledger.Proved.Count >= view.Statements.Length, "I13: a verdict is shown that the log does not give");
        Oracle.Claim(view.Statements.All(line => line.Contains("Still live: ", StringComparison.Ordinal)), "I15: a verdict without what stays live");
        foreach (var wait in ledger.Sheet?.Waits ?? [])
        {
            if (ledger.Left(wait.Id, now) is { } left && screen.Countdowns.FirstOrDefault(shown => shown.Name == wait.Name) is { } countdown)
            {
                Oracle.Claim(countdown.Left >= left && !(countdown.IsOver && left > Ticks.Zero), $"I2: {wait.Name} is shown with {countdown.Remaining} and {left.SecondsRoundedUp} s are left");
            }
        }
    }
}
