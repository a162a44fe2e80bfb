using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>What takes effect at any moment, bound to no question and confirmed by nothing: stop, help, a disturbance (I5, I16).</summary>
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
                VoidRules.VoidProofs(turn, _ => true, "stop was called");
                VoidRules.AbandonTest(turn, "stop was called");
                VoidRules.Lapse(turn, "stop was called");
                turn.Add(new WorkStopped("Stop was called.", false));
                turn.Add(new AlertRaised(AlarmKind.Stop, LosingWords.Of(answer.Phrase)));
                return true;
            case Phrase.HelpMe:
                turn.Add(new AlertRaised(AlarmKind.Help, LosingWords.Of(answer.Phrase)));
                return true;
            default:
                return false;
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
