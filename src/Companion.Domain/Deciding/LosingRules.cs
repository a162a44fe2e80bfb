using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;

namespace Companion.Domain.Deciding;

/// <summary>What takes effect at any moment, bound to no question and confirmed by nothing: stop, leave, casualty, help, a disturbance (I5, I16).</summary>
internal static class LosingRules
{
    public static bool Handle(Turn turn, Answer answer)
    {
        if (DisturbanceOf(answer.Phrase) is { } what)
        {
            VoidRules.Disturb(turn, what);
            turn.Add(new AlertRaised(AlarmKind.Void, LosingWords.Of(answer.Phrase)));
            return true;
        }

        switch (answer.Phrase)
        {
            case Phrase.Stop:
                VoidRules.StopWork(turn, "stop was called", "Stop was called.", false);
                turn.Add(new AlertRaised(AlarmKind.Stop, LosingWords.Of(answer.Phrase)));
                return true;
            case Phrase.LeaveNow:
                SceneRules.StandOff(turn, null);
                return true;
            case Phrase.Casualty:
                VoidRules.StopWork(turn, "somebody is hurt", "Somebody is hurt.", false);
                LookOverAgain(turn);
                turn.Add(new AlertRaised(AlarmKind.Help, LosingWords.Of(answer.Phrase)));
                return true;
            case Phrase.TakingBreak:
                PuttingBackRules.Break(turn);
                return true;
            case Phrase.HelpMe:
                turn.Add(new AlertRaised(AlarmKind.Help, LosingWords.Of(answer.Phrase)));
                return true;
            default:
                return false;
        }
    }

    /// <summary>Protective equipment is looked over again after an incident (29 CFR 1910.137(c)(2)(ii)).</summary>
    private static void LookOverAgain(Turn turn)
    {
        foreach (var item in turn.Job.Kit.Where(item => turn.Job.Checked.Contains(item.Id) && KitRules.IsWorn(item.Kind)))
        {
            turn.Add(new KitChecked(item.Id, item.Kind, string.Empty, false, "Somebody was hurt. Look it over again."));
        }
    }

    /// <summary>The disturbance that a phrase reports, if it reports one.</summary>
    public static Disturbance? DisturbanceOf(Phrase phrase) => phrase switch
    {
        Phrase.KeyOn => Disturbance.KeyOn,
        Phrase.EngineStarted => Disturbance.EngineStarted,
        Phrase.LowVoltRestored => Disturbance.LowVoltRestored,
        Phrase.VehicleWoke => Disturbance.VehicleWoke,
        Phrase.PlugRefitted => Disturbance.PlugRefitted,
        Phrase.ChargerConnected => Disturbance.ChargerConnected,
        Phrase.WheelsTurned => Disturbance.WheelsTurned,
        Phrase.VehicleTowed => Disturbance.VehicleTowed,
        _ => null,
    };
}
